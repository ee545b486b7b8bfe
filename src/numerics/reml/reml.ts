import type { DesignColumn } from "../design-column.ts";
import { leastSquares, type LeastSquares } from "../least-squares.ts";
import { basisOf, type Basis } from "./basis.ts";
import { criterionAt, type Criterion } from "./criterion.ts";
import { minimise, type Minimised } from "./minimise.ts";
import { requireSources, type RandomSource } from "./random-source.ts";
import { reducedSystem, type ReducedSystem } from "./reduced-system.ts";
import { choleskyFactor, choleskySolve } from "./small-symmetric.ts";

/** The variances that make what the fixed columns leave over most likely. */
export interface RemlFit {
  readonly kind: "fitted";
  /** The fixed columns by plain least squares: which are kept, and what is left. */
  readonly plain: LeastSquares;
  /** Of each source in order, the residual last; in the square of the response's unit. Zero means zero. */
  readonly variances: Float64Array;
  /** −2 log restricted likelihood, constants included, so that it may be compared between random parts with the same fixed columns. */
  readonly deviance: number;
  readonly converged: boolean;
  /** What one more Newton step would lower the deviance by. */
  readonly decrement: number;
  readonly iterations: number;
  /** Deviances that the starts ended at, above the least of them: where they differ there are several maxima. */
  readonly starts: readonly number[];
  /** The parts that inference is made from; lengths are in units of `scale`. */
  readonly system: ReducedSystem;
  readonly basis: Basis;
  readonly at: Criterion;
  readonly scale: number;
}

/** Why there are no variances. */
export interface RemlRefused {
  readonly kind: "refused";
  readonly plain: LeastSquares;
  /**
   * `no-rows-left`: as many columns as rows. `no-scatter`: the columns meet every row. `spanned`: the fixed columns hold every difference between the levels
   * of `sources[0]`. `tied`: the sources (or they and the residual) can't be told apart. `residual-vanishes`: the sources leave no scatter within.
   */
  readonly why: "no-rows-left" | "no-scatter" | "spanned" | "tied" | "residual-vanishes";
  readonly sources: readonly number[];
}

/**
 * Fits fixed columns and random sources: y = Xβ + Σ u_source[level] + e, by restricted maximum likelihood.
 *
 * Use it where rows share something that varies by chance: a day, a part, a set-up, a whole plot, the run that several readings were taken on. `columns` are as
 * for `leastSquares`; of linearly dependent ones the first are kept. Sources may nest, cross, and be of unequal sizes.
 *
 * The likelihood is worked out on sums over levels (see `evaluate`), with exact derivatives, from three starts; convergence is judged by what a further step would
 * gain in deviance (below 1e-8, and in practice below 1e-15). Variances are never below zero, and are exactly zero where the likelihood falls from there.
 * What can't be answered is told by `kind: "refused"`. Refused outright: entries that are not finite, sources whose lengths differ, more than 300 crossed levels.
 *
 * Accuracy: about 10 digits of variances on well-posed layouts; in balanced ones they equal the mean-square solution where that is positive.
 * Source: Patterson and Thompson 1971; Harville 1977; Searle, Casella and McCulloch 1992, Variance Components, chapter 6.
 *
 * @example
 * // Two parts, two readings each: 1, 3 and 5, 7. Within 2; between (16 − 2)/2 = 7.
 * const part = { level: Int32Array.of(0, 0, 1, 1), levels: 2 };
 * reml([{ high: Float64Array.of(1, 1, 1, 1) }], Float64Array.of(1, 3, 5, 7), [part]); // variances 7, 2
 */
export function reml(
  columns: readonly DesignColumn[],
  response: Float64Array,
  sources: readonly RandomSource[],
): RemlFit | RemlRefused {
  requireSources(sources, response.length);
  const plain = leastSquares(columns, response);
  const refused = (why: RemlRefused["why"], of: readonly number[] = []): RemlRefused => ({
    kind: "refused",
    plain,
    why,
    sources: of,
  });
  if (plain.df === 0) return refused("no-rows-left");
  if (plain.residualSumOfSquares <= plain.roundingSumOfSquares) return refused("no-scatter");
  const basis = basisOf(columns, plain.kept);
  // In units of the plain residual's standard deviation all variances are of the order of 1.
  const scale = Math.sqrt(plain.residualSumOfSquares / plain.df);
  const rest = plain.residuals.map((value) => value / scale);
  const system = reducedSystem(basis.directions, rest, sources);
  const k = sources.length;
  const alone = new Float64Array(k + 1);
  alone[k] = 1;
  const start = criterionAt(system, alone);
  const untold = untoldSources(start.expected, k);
  if (untold !== null) return refused(untold.why, untold.sources);

  const found = startsOf(start, k).map((from) => minimise(system, from));
  if (found.some(({ residualVanishes }) => residualVanishes)) return refused("residual-vanishes");
  const best = found.reduce((least, one) => (one.at.deviance < least.at.deviance ? one : least));
  return {
    kind: "fitted",
    plain,
    variances: best.at.variances.map((value) => value * scale * scale),
    deviance: best.at.deviance + plain.df * Math.log(2 * Math.PI * scale * scale) + basis.logVolume,
    converged: best.converged,
    decrement: best.decrement,
    iterations: found.reduce((total, { iterations }) => total + iterations, 0),
    starts: found.map((one: Minimised) => one.at.deviance - best.at.deviance),
    system,
    basis,
    at: best.at,
    scale,
  };
}

/**
 * The sources whose part in the scatter can't be told, by tr(P·Vᵢ·P·Vⱼ) with the residual alone: a zero on its diagonal is a source that the fixed columns span, a
 * dependence is sources that move what is left over alike. The last index is the residual.
 */
function untoldSources(
  expected: Float64Array,
  k: number,
): { readonly why: "spanned" | "tied"; readonly sources: readonly number[] } | null {
  const size = k + 1;
  const residual = expected[k * size + k];
  for (let i = 0; i < k; i++) {
    // Entries are sums of squares of multiples of n; what rounding leaves of a spanned source is far below this.
    if (!(expected[i * size + i] > 1e-10 * residual)) return { why: "spanned", sources: [i] };
  }
  for (let i = 0; i < size; i++)
    for (let j = 0; j < i; j++) {
      const cosine = expected[i * size + j] / Math.sqrt(expected[i * size + i] * expected[j * size + j]);
      if (cosine > 1 - 1e-10) return { why: "tied", sources: [j, i] };
    }
  return choleskyFactor(expected, size, 1e-10) === null
    ? { why: "tied", sources: Array.from({ length: size }, (_, i) => i) }
    : null;
}

/** Where the search begins: the quadratic estimates with the residual alone as their guess, and even shares on either side of 1. */
function startsOf(alone: Criterion, k: number): readonly Float64Array[] {
  const size = k + 1;
  const factor = choleskyFactor(alone.expected, size)!;
  // One step of scoring from there.
  const step = choleskySolve(factor, size, alone.gradient);
  const quadratic = alone.variances.map((value, i) => Math.max(0, value - step[i]));
  quadratic[k] = Math.max(quadratic[k], 0.05);
  return [
    quadratic,
    new Float64Array(size).fill(1 / size),
    Float64Array.from({ length: size }, (_, i) => (i < k ? 3 / k : 0.2)),
  ];
}
