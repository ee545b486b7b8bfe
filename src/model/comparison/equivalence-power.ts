import { normalCdf, tUpperQuantile } from "../../numerics/index.ts";
import { modelError } from "../error.ts";

/** A plan of runs for showing that levels are alike. */
export interface EquivalencePlan {
  /** Runs of each level. */
  readonly runs: number;
  /** Levels that share the scatter; the degrees of freedom are levels × (runs − 1). Default 2. */
  readonly levels?: number;
  /** Standard deviation of a run, on the scale that is compared. */
  readonly standardDeviation: number;
  /** Largest difference that counts as none, on the same scale. */
  readonly margin: number;
  /** The difference there really is. Default 0. */
  readonly difference?: number;
  /** Of the whole answer. Default 0.95. */
  readonly confidence?: number;
  /** Pairs that share the chance of error. Default 1. */
  readonly pairs?: number;
}

/** Points of Gauss and Legendre on −1 to 1 by Newton's iteration. */
const rule = legendre(64);

/**
 * The chance that two one-sided tests show a difference to lie within a margin: the mean over the estimated scatter of the chance that the
 * estimate falls between what is left of the margin on both sides. Use it before cutting, to see how many runs of each level it takes.
 * Accuracy 1e-8. Refused: fewer than two runs, a margin or standard deviation that is not above zero.
 * Source: Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15, 657–680; the integral is Owen's (1965, Biometrika 52, 437–446).
 * Example: standard deviation 0.05, margin 0.1, five runs of two levels: 0.7836.
 */
export function equivalencePower(plan: EquivalencePlan): number {
  const { runs, levels = 2, standardDeviation, margin, difference = 0, confidence = 0.95, pairs = 1 } = plan;
  if (!(margin > 0 && Number.isFinite(margin)))
    throw modelError(`margin ${margin}`, "the largest difference that counts as none, above zero");
  if (!(standardDeviation > 0 && Number.isFinite(standardDeviation)))
    throw modelError(`standard deviation ${standardDeviation}`, "a number above zero");
  if (!(Number.isInteger(runs) && runs >= 2)) throw modelError(`${runs} runs a level`, "two or more");
  if (!Number.isFinite(difference)) throw modelError(`difference ${difference}`, "a finite number");
  if (!(confidence > 0.5 && confidence < 1))
    throw modelError(`confidence ${confidence}`, "between 0.5 and 1");
  const df = levels * (runs - 1);
  const error = standardDeviation * Math.sqrt(2 / runs);
  const reach = tUpperQuantile((1 - confidence) / pairs, df);
  const inside = (scale: number): number => {
    const room = margin - reach * error * scale;
    return room <= 0 ? 0 : normalCdf((room - difference) / error) - normalCdf((-room - difference) / error);
  };
  // Over the estimated scatter, as far as it is likely and its tests leave something of the margin.
  const spread = 9 / Math.sqrt(2 * df) + 4 / df;
  const [low, high] = [Math.max(0, 1 - spread), Math.min(margin / (reach * error), 1 + spread)];
  if (!(high > low)) return 0;
  const logConstant = Math.LN2 + (df / 2) * Math.log(df / 2) - logGammaOfHalf(df);
  let total = 0;
  for (const { at, weight } of rule) {
    const scale = low + ((at + 1) / 2) * (high - low);
    const density = Math.exp(logConstant + (df - 1) * Math.log(scale) - (df * scale * scale) / 2);
    total += ((weight * (high - low)) / 2) * density * inside(scale);
  }
  return Math.min(1, total);
}

/** Fewest runs of each level with which `equivalencePower` reaches a chance; null where a thousand do not. */
export function equivalenceRuns(plan: Omit<EquivalencePlan, "runs">, chance = 0.8): number | null {
  if (!(chance > 0 && chance < 1)) throw modelError(`chance ${chance}`, "between 0 and 1");
  let [low, high] = [1, 2];
  while (equivalencePower({ ...plan, runs: high }) < chance) {
    [low, high] = [high, high * 2];
    if (high > 1024) return null;
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (equivalencePower({ ...plan, runs: middle }) < chance) low = middle;
    else high = middle;
  }
  return high;
}

/** ln Γ(df / 2), by the recursion of Γ for few degrees of freedom, else by Stirling's series. */
function logGammaOfHalf(df: number): number {
  let [x, shift] = [df / 2, 0];
  for (; x < 20; x++) shift -= Math.log(x);
  const series = 1 / (12 * x) - 1 / (360 * x ** 3) + 1 / (1260 * x ** 5);
  return shift + (x - 0.5) * Math.log(x) - x + Math.log(2 * Math.PI) / 2 + series;
}

function legendre(count: number): readonly { readonly at: number; readonly weight: number }[] {
  return Array.from({ length: count }, (_, i) => {
    let at = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 20; step++) {
      let [before, value] = [1, at];
      for (let k = 2; k <= count; k++)
        [before, value] = [value, ((2 * k - 1) * at * value - (k - 1) * before) / k];
      slope = (count * (at * value - before)) / (at * at - 1);
      const move = value / slope;
      at -= move;
      if (Math.abs(move) < 1e-15) break;
    }
    return { at, weight: 2 / ((1 - at * at) * slope * slope) };
  });
}
