import { dotProduct, type DesignColumn, type MixedInference } from "../../numerics/index.ts";
import { pointEvaluator, type PointEvaluator } from "../recipe/point-evaluator.ts";
import type { Solved } from "../solved.ts";

/** Square matrices over whitened points, row by row: what a mixed fit knows of the variance of its mean. */
interface Known {
  /** Over the variance of one part: as degrees of freedom take it, and as bounds do. */
  readonly plain: Float64Array;
  readonly told: Float64Array;
  /** Slope of the mean's variance by each variance. */
  readonly slopes: readonly Float64Array[];
  readonly ofVariances: Float64Array;
}

/**
 * A mixed fit for searches. `sd` is the scatter of one more part on fresh levels of the `fresh` sources, leverage the variance of the mean over its square; the mean's
 * bound, that of one more part, and `sd` itself have degrees of freedom by Satterthwaite's method (variances of them from the covariance of the variances). Further
 * runs are taken to come each on fresh levels, estimates and variances staying.
 */
export function mixedEvaluator(
  solved: Solved,
  mixed: MixedInference,
  given: {
    readonly columns: readonly DesignColumn[];
    /** Places of the sources of which a part brings a fresh level, and the names of those but the residual. */
    readonly fresh: readonly number[];
    readonly names: readonly string[];
  },
): PointEvaluator {
  const { rank } = solved.solution;
  const { fresh, columns } = given;
  const variance = fresh.reduce((sum, source) => sum + mixed.variances[source], 0);
  const over = (matrix: Float64Array): Float64Array => matrix.map((entry) => entry / variance);
  const base = pointEvaluator({
    ...solved,
    variance,
    solution: { ...solved.solution, inverseCross: over(mixed.plainCovariance) },
  });
  const whitened = whitener(base.lower, rank);
  const first: Known = {
    plain: identity(rank),
    told: whitened(over(mixed.covariance)),
    slopes: mixed.slopes.map(whitened),
    ofVariances: mixed.ofVariances,
  };
  const isFresh = mixed.variances.map((_, source) => (fresh.includes(source) ? 1 : 0));
  const evaluateBy =
    ({ plain, told, slopes, ofVariances }: Known): PointEvaluator["evaluate"] =>
    (point, out) => {
      base.evaluate(point, out);
      const white = new Float64Array(rank);
      base.whiten(point, white);
      const share = form(plain, white);
      const slope = Float64Array.from(slopes, (matrix) => form(matrix, white));
      out[1] = form(told, white);
      out[2] = dfOf(share * variance, slope, ofVariances);
      out[3] = dfOf(
        (share + 1) * variance,
        slope.map((value, source) => value + isFresh[source]),
        ofVariances,
      );
    };
  const withMore =
    (known: Known): NonNullable<PointEvaluator["withMore"]> =>
    (added) => {
      const later = added.reduce((so, one) => afterOneMore(so, one, { isFresh, variance }), known);
      return { evaluate: evaluateBy(later), withMore: withMore(later) };
    };
  return {
    ...base,
    df: dfOf(variance, isFresh, mixed.ofVariances),
    dfVaries: true,
    fresh: given.names,
    farthest: farthestOf(base, first.plain, solved, columns),
    evaluate: evaluateBy(first),
    withMore: withMore(first),
  };
}

/** Satterthwaite's: twice the square of a variance over the variance of it. */
function dfOf(variance: number, slope: Float64Array, ofVariances: Float64Array): number {
  const of = form(ofVariances, slope);
  return of > 0 ? (2 * variance * variance) / of : Infinity;
}

/** One more run, on fresh levels: Φ − aa′/d in whitened points, and what that makes of the slopes and of the doubt of the variances. */
function afterOneMore(
  { plain, told, slopes, ofVariances }: Known,
  point: Float64Array,
  { isFresh, variance }: { readonly isFresh: Float64Array; readonly variance: number },
): Known {
  const size = point.length;
  const along = applied(plain, point);
  const d = 1 + dotProduct(point, along);
  // Φ′ = PΦ with P = I − a z′/d; slopes and what is added to Φ turn with P on both sides.
  const turned = (matrix: Float64Array, more: number): Float64Array => {
    const right = applied(matrix, point);
    const whole = dotProduct(point, right);
    return matrix.map((entry, e) => {
      const [i, j] = [Math.floor(e / size), e % size];
      return (
        entry -
        (along[i] * right[j] + right[i] * along[j]) / d +
        (along[i] * along[j] * (whole + more)) / (d * d)
      );
    });
  };
  const later = plain.map((entry, e) => entry - (along[Math.floor(e / size)] * along[e % size]) / d);
  const extra = turned(
    told.map((entry, e) => entry - plain[e]),
    0,
  );
  const of = applied(ofVariances, isFresh);
  const whole = 2 * variance * variance + dotProduct(isFresh, of);
  const count = isFresh.length;
  return {
    plain: later,
    told: later.map((entry, e) => entry + extra[e]),
    slopes: slopes.map((matrix, source) => turned(matrix, isFresh[source])),
    ofVariances: ofVariances.map((entry, e) => entry - (of[Math.floor(e / count)] * of[e % count]) / whole),
  };
}

/** The largest leverage of any run. */
function farthestOf(
  base: { readonly lower: Float64Array },
  plain: Float64Array,
  { solution }: Solved,
  columns: readonly DesignColumn[],
): number {
  const { kept, rank } = solution;
  let farthest = 0;
  for (let row = 0; row < (columns[0]?.high.length ?? 0); row++) {
    const x = Float64Array.from(kept, (column) => columns[column].high[row]);
    const white = new Float64Array(rank);
    for (let j = 0; j < rank; j++) for (let i = j; i < rank; i++) white[j] += base.lower[i * rank + j] * x[i];
    farthest = Math.max(farthest, form(plain, white));
  }
  return farthest;
}

/** L⁻¹·matrix·L⁻¹′ for the lower triangle L. */
function whitener(lower: Float64Array, size: number): (matrix: Float64Array) => Float64Array {
  const solveColumns = (matrix: Float64Array): Float64Array => {
    const out = Float64Array.from(matrix);
    for (let c = 0; c < size; c++)
      for (let i = 0; i < size; i++) {
        for (let k = 0; k < i; k++) out[i * size + c] -= lower[i * size + k] * out[k * size + c];
        out[i * size + c] /= lower[i * size + i];
      }
    return out;
  };
  const turned = (matrix: Float64Array): Float64Array =>
    matrix.map((_, e) => matrix[(e % size) * size + Math.floor(e / size)]);
  return (matrix) => solveColumns(turned(solveColumns(matrix)));
}

function identity(size: number): Float64Array {
  return Float64Array.from({ length: size * size }, (_, e) => (e % (size + 1) === 0 ? 1 : 0));
}

function applied(matrix: Float64Array, x: Float64Array): Float64Array {
  const size = x.length;
  const out = new Float64Array(size);
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) out[i] += matrix[i * size + j] * x[j];
  return out;
}

function form(matrix: Float64Array, x: Float64Array): number {
  const size = x.length;
  let sum = 0;
  for (let i = 0, e = 0; i < size; i++) {
    let row = 0;
    for (let j = 0; j < size; j++, e++) row += matrix[e] * x[j];
    sum += x[i] * row;
  }
  return sum;
}
