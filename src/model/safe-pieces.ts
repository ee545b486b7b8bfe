import type { Piece } from "./recipe.ts";

/** How a range is searched. */
export interface SearchOptions {
  /** On a `log` scale settings are tried in equal ratios. Default "linear". */
  readonly scale?: "linear" | "log";
  /** Steps of the first search; between them, ends are found by bisection and turning points by golden section. Default 256. */
  readonly steps?: number;
}

/**
 * The stretches between `low` and `high` in which `gap` is zero or less, ends to the last digits. A bound need not rise or fall all the way, so
 * the whole range is searched, turning points too: a stretch is missed only where the gap touches zero and leaves it twice
 * between two steps without a turning point that the steps show.
 */
export function safePieces(
  gap: (setting: number) => number,
  low: number,
  high: number,
  options: SearchOptions = {},
): readonly Piece[] {
  const { scale = "linear", steps = 256 } = options;
  if (!(high > low)) return gap(low) <= 0 ? [{ low, high: low }] : [];
  const logarithmic = scale === "log" && low > 0;
  const place = (k: number): number => {
    if (k === 0) return low;
    if (k === steps) return high;
    return logarithmic ? low * (high / low) ** (k / steps) : low + ((high - low) * k) / steps;
  };
  let points = Array.from({ length: steps + 1 }, (_, k) => ({ at: place(k), gap: gap(place(k)) }));
  points = points.flatMap((point, k) => {
    const [before, after] = [points[k - 1], points[k + 1]];
    if (before === undefined || after === undefined) return [point];
    // A turning point on the same side as its neighbours may hide a crossing.
    const peak = point.gap <= 0 && point.gap >= before.gap && point.gap >= after.gap;
    const dip = point.gap > 0 && point.gap <= before.gap && point.gap <= after.gap;
    if (!peak && !dip) return [point];
    const turn = turningPoint((x) => (peak ? -gap(x) : gap(x)), before.at, after.at);
    const found = { at: turn, gap: gap(turn) };
    return turn < point.at ? [found, point] : turn > point.at ? [point, found] : [point];
  });
  const pieces: Piece[] = [];
  let start: number | null = points[0].gap <= 0 ? low : null;
  for (let k = 1; k < points.length; k++) {
    const [before, after] = [points[k - 1], points[k]];
    if (before.gap <= 0 === after.gap <= 0) continue;
    const edge = crossing(gap, before.at, after.at, before.gap <= 0);
    if (start === null) start = edge;
    else {
      pieces.push({ low: start, high: edge });
      start = null;
    }
  }
  if (start !== null) pieces.push({ low: start, high });
  return pieces;
}

/** The last safe setting beside a crossing, by bisection down to neighbouring doubles. */
function crossing(gap: (setting: number) => number, from: number, to: number, safeAtFrom: boolean): number {
  let [safe, unsafe] = safeAtFrom ? [from, to] : [to, from];
  for (let k = 0; k < 200; k++) {
    const middle = safe / 2 + unsafe / 2;
    if (middle === safe || middle === unsafe) break;
    if (gap(middle) <= 0) safe = middle;
    else unsafe = middle;
  }
  return safe;
}

/** Where a function with one dip between two settings is lowest, by golden section. */
function turningPoint(value: (setting: number) => number, from: number, to: number): number {
  const share = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  let left = high - share * (high - low);
  let right = low + share * (high - low);
  let [atLeft, atRight] = [value(left), value(right)];
  for (let k = 0; k < 60; k++) {
    if (atLeft <= atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - share * (high - low);
      atLeft = value(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + share * (high - low);
      atRight = value(right);
    }
  }
  return atLeft <= atRight ? left : right;
}
