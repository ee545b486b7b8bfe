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

/** Steps of the golden section: brackets shrink to 0.618³⁰, half a millionth. */
const GOLDEN_STEPS = 30;
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

function goldenPeak(gainAt: CoordinateQuestion["gainAt"], low: number, high: number): number {
  let [a, b] = [low, high];
  let one = b - GOLDEN * (b - a);
  let other = a + GOLDEN * (b - a);
  let [gainOne, gainOther] = [gainAt(one, -1), gainAt(other, -1)];
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
  // A peak at an end of the bracket is the end itself.
  const inside = gainOne >= gainOther ? one : other;
  const most = Math.max(gainOne, gainOther);
  if (gainAt(high, -1) >= most && gainAt(high, -1) >= gainAt(low, -1)) return high;
  return gainAt(low, -1) >= most ? low : inside;
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
