import { stepNear, type Axis } from "./axis.ts";

/** The coordinate that serves best, and which candidate it is (−1: none of them). */
export interface Chosen {
  coordinate: number;
  place: number;
}

/** How a change of one coordinate is judged: gains of the criterion, larger is better. */
export interface CoordinateQuestion {
  readonly axis: Axis;
  /** Gain at a coordinate, which may be a candidate (−1: none), beside staying. */
  readonly gainAt: (coordinate: number, place: number) => number;
  /** False where a constraint forbids it. */
  readonly allowed: (coordinate: number, place: number) => boolean;
  /** A gain that this must pass to be worth a move. */
  readonly least: number;
  /** True to look between the candidates as well. */
  readonly refine: boolean;
}

/** Steps of the golden section: a bracket shrinks to a hundredth, and a parabola through that finds the peak to six figures. */
const GOLDEN_STEPS = 10;
/** The step inwards that is tried at an end, as a share of the bracket. */
const NUDGE = 0.02;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** Halvings towards the border of what is allowed. */
const HALVINGS = 24;

/**
 * Tries every candidate of a coordinate, then (where asked to) the places between by golden section around the best of them;
 * where a constraint forbids the best place, the border towards it is found by halving. Changes `chosen` where something gains.
 */
export function chooseCoordinate(question: CoordinateQuestion, chosen: Chosen): boolean {
  const { axis, gainAt, allowed, least, refine } = question;
  const before = chosen.coordinate;
  let most = least;
  let moved = false;
  const { candidates } = axis;
  for (let place = 0; place < candidates.length; place += 1) {
    const coordinate = candidates[place];
    if (coordinate === before) continue;
    const gain = gainAt(coordinate, place);
    if (!(gain > most) || !allowed(coordinate, place)) continue;
    most = gain;
    chosen.coordinate = coordinate;
    chosen.place = place;
    moved = true;
  }
  if (!refine || axis.between === "nothing" || candidates.length < 2) return moved;
  const width = (candidates[candidates.length - 1] - candidates[0]) / (candidates.length - 1);
  const from = chosen.coordinate;
  const peak = goldenPeak(
    gainAt,
    from,
    Math.max(candidates[0], from - width),
    Math.min(candidates[candidates.length - 1], from + width),
  );
  const tries =
    axis.between === "steps"
      ? [stepNear(axis, peak, 0), stepNear(axis, peak, 1)]
      : [allowed(peak, -1) ? peak : borderBetween(allowed, from, peak)];
  for (const coordinate of tries) {
    if (coordinate === before) continue;
    const gain = gainAt(coordinate, -1);
    if (!(gain > most) || !allowed(coordinate, -1)) continue;
    most = gain;
    chosen.coordinate = coordinate;
    chosen.place = candidates.indexOf(coordinate);
    moved = true;
  }
  return moved;
}

/** The place of the peak near `from`: an end of the bracket, or a golden section closed by a parabola. */
function goldenPeak(gainAt: CoordinateQuestion["gainAt"], from: number, low: number, high: number): number {
  // Most coordinates of a good design stand at an end and gain nothing by a small step inwards.
  if (from === low || from === high) {
    const inwards = from + (from === low ? 1 : -1) * NUDGE * (high - low);
    if (gainAt(from, -1) >= gainAt(inwards, -1)) return from;
  }
  let [a, b] = [low, high];
  let one = b - GOLDEN * (b - a);
  let other = a + GOLDEN * (b - a);
  let gainOne = gainAt(one, -1);
  let gainOther = gainAt(other, -1);
  for (let step = 0; step < GOLDEN_STEPS; step += 1) {
    if (gainOne >= gainOther) {
      b = other;
      other = one;
      gainOther = gainOne;
      one = b - GOLDEN * (b - a);
      gainOne = gainAt(one, -1);
    } else {
      a = one;
      one = other;
      gainOne = gainOther;
      other = a + GOLDEN * (b - a);
      gainOther = gainAt(other, -1);
    }
  }
  const middle = (a + b) / 2;
  const [gainA, gainB, gainMiddle] = [gainAt(a, -1), gainAt(b, -1), gainAt(middle, -1)];
  if (a === low && gainA >= gainMiddle) return low;
  if (b === high && gainB >= gainMiddle) return high;
  const bend = gainA - 2 * gainMiddle + gainB;
  if (!(bend < 0)) return middle;
  const vertex = middle + ((gainA - gainB) / bend) * ((b - a) / 4);
  return Math.min(b, Math.max(a, vertex));
}

/** The last place that is allowed on the way from an allowed one to one that isn't. */
function borderBetween(allowed: CoordinateQuestion["allowed"], from: number, to: number): number {
  let [inside, outside] = [from, to];
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (inside + outside) / 2;
    if (allowed(middle, -1)) inside = middle;
    else outside = middle;
  }
  return inside;
}
