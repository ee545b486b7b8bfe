import { brentRoot } from "../brent-root.ts";
import { chiSquareQuantile } from "../chi-square.ts";
import { criterionAt } from "./criterion.ts";
import { exactShare } from "./exact-share.ts";
import { minimise, type Held } from "./minimise.ts";
import type { ReducedSystem } from "./reduced-system.ts";
import type { RemlFit } from "./reml.ts";

export interface VarianceRange {
  readonly low: number;
  /** Infinity where the likelihood sets no upper limit. */
  readonly high: number;
}

/** Relative accuracy of the ends of an interval: far below what the readings can say. */
const endTolerance = 1e-9;

/**
 * The interval of one variance (`what` "variance") or of its share of the whole, by profile likelihood: all values at which the deviance, the other variances at
 * their best, exceeds its least by no more than the chi-square quantile on one degree of freedom. Shares of a single source are exact (see `exactShare`). A lower end of exactly 0 is one that zero belongs to.
 */
export function varianceRange(
  { system, at: best, scale }: Pick<RemlFit, "system" | "at" | "scale">,
  source: number,
  options: { readonly what: "variance" | "share"; readonly confidence: number },
): VarianceRange {
  const { what, confidence } = options;
  const { variances } = best;
  const residual = variances.length - 1;
  const total = variances.reduce((sum, value) => sum + value, 0);
  if (what === "share" && residual === 1) {
    const exact = exactShare(system, confidence);
    if (exact !== null) return source === 0 ? exact : { low: 1 - exact.high, high: 1 - exact.low };
  }
  const limit = best.deviance + chiSquareQuantile(confidence, 1);
  const excess = (value: number): number => {
    const held: Held =
      what === "share" ? { kind: "share", source, share: value } : { kind: "variance", source };
    const start = what === "share" ? sharedStart(variances, source, value) : variances.slice();
    if (what === "variance") start[source] = value;
    return minimise(system, start, held).at.deviance - limit;
  };
  const found = what === "share" ? variances[source] / total : variances[source];

  const lower = (): number => {
    if (found === 0) return 0;
    if (source !== residual && excess(0) <= 0) return 0;
    let below = found / 4;
    while (below > found * 1e-12 && excess(below) <= 0) below /= 4;
    // Not even a millionth of a millionth of the estimate is ruled out: as good as zero.
    if (below <= found * 1e-12) return 0;
    return Math.exp(
      brentRoot((t) => excess(Math.exp(t)), Math.log(below), Math.log(found), { tolerance: endTolerance }),
    );
  };
  const upperVariance = (): number => {
    const start = found > 0 ? found : total * 1e-6;
    let above = start * 4;
    while (above < total * 1e12 && excess(above) <= 0) above *= 4;
    if (above >= total * 1e12) return Infinity;
    const from = Math.max(start, above / 4);
    return Math.exp(
      brentRoot((t) => excess(Math.exp(t)), Math.log(from), Math.log(above), { tolerance: endTolerance }),
    );
  };
  const upperShare = (): number => {
    if (source === residual && aloneDeviance(system, variances) <= limit) return 1;
    // In log(share / (1 − share)), so that ends near either side keep their digits.
    const share = (t: number): number => 1 / (1 + Math.exp(-t));
    const from = Math.log(Math.max(found, 1e-9) / (1 - Math.max(found, 1e-9)));
    let above = from + 1;
    while (above < 30 && excess(share(above)) <= 0) above += 1;
    if (above >= 30) return 1;
    const low = excess(share(above - 1)) <= 0 ? above - 1 : from;
    return share(brentRoot((t) => excess(share(t)), low, above, { tolerance: endTolerance }));
  };
  return what === "share"
    ? { low: lower(), high: upperShare() }
    : { low: lower() * scale * scale, high: upperVariance() * scale * scale };
}

/** Variances of which one has the stated share, the others as they were to one another. */
function sharedStart(variances: Float64Array, source: number, share: number): Float64Array {
  const start = variances.slice();
  const residual = start.length - 1;
  let others = 0;
  start.forEach((value, i) => {
    if (i !== source) others += value;
  });
  if (source !== residual) start[source] = (share / (1 - share)) * others;
  else {
    const wanted = ((1 - share) / share) * start[residual];
    // Sources that are all zero can't be stretched; each gets an even part.
    for (let i = 0; i < residual; i++)
      start[i] = others > 0 ? start[i] * (wanted / others) : wanted / residual;
  }
  return start;
}

/** The deviance with the residual as the only source, at its best. */
function aloneDeviance(system: ReducedSystem, variances: Float64Array): number {
  const start = new Float64Array(variances.length);
  // One step of scoring is exact here; minimise would let other sources in.
  start[start.length - 1] = 1;
  const first = criterionAt(system, start);
  const residual = start.length - 1;
  start[residual] = 1 - first.gradient[residual] / first.expected[residual * start.length + residual];
  return criterionAt(system, start).deviance;
}
