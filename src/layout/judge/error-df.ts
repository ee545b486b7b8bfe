import { runWeights, type ToldModel } from "./told.ts";

/** Between what a term is compared: whole plots (set-ups of hard factors), runs, or in part each. */
export type TermStratum = "whole plots" | "runs" | "both";

/** Degrees of freedom that are left for error, and how each estimand is compared. */
export interface ErrorDf {
  /** Between whole plots; 0 where no factor is hard to change. */
  readonly wholePlots: number;
  /** Between runs of a whole plot; between all runs where no factor is hard to change. */
  readonly runs: number;
  /** One an estimand of the model. */
  readonly terms: readonly OwnDf[];
  /** Of any weighted sum of coefficients, carried to the orthogonal columns. */
  readonly of: (along: Float64Array) => OwnDf;
}

export interface OwnDf {
  readonly stratum: TermStratum;
  readonly df: number | null;
}

/** A share of the variance that is rounding. */
const ROUNDING = 1e-9;

/**
 * Error degrees of freedom, stratum by stratum and term by term. Between whole plots there are rank(X, Z) − rank(X), within
 * them runs − rank(X, Z): what is left of each after the model (Goos, The Optimal Design of Blocked and Split-Plot
 * Experiments, 2002, chapter 6). A term that is compared in one stratum only has that stratum's (exact where whole plots are of one
 * size); one that is compared in both has Satterthwaite's (Biometrics Bulletin 2, 1946, 110–114), 2·v²/Var(v) with v the
 * variance of its estimate and Var(v) from the expected REML information at the stated ratio (Giesbrecht and Burns,
 * Biometrics 41, 1985, 477–486): what the analysis will find on average.
 */
export function errorDf(told: ToldModel): ErrorDf {
  const { information, along, split, scatter } = told;
  const free = information.rows - information.kept.length;
  if (!split) {
    const own: OwnDf = { stratum: "runs", df: free < 1 ? null : free };
    return { wholePlots: 0, runs: free, terms: along.map(() => own), of: () => own };
  }
  const left = leftBetween(told);
  const wholePlots = rankOf(left, scatter.sizes.length, Math.max(...scatter.sizes));
  const runs = free - wholePlots;
  const spread = wholePlots > 0 && runs > 0 ? componentSpread(told, left) : undefined;
  const equal = scatter.sizes.every((size) => size === scatter.sizes[0]);
  const of = (vector: Float64Array): OwnDf => {
    const weights = runWeights(information, vector);
    const { total, between, slopes } = partsOf(told, weights);
    if (between < ROUNDING * total) return { stratum: "runs", df: runs < 1 ? null : runs };
    const whole = between > (1 - ROUNDING) * total;
    const stratum = whole ? "whole plots" : "both";
    if (wholePlots < 1) return { stratum, df: null };
    if (whole && (equal || runs < 1)) return { stratum, df: wholePlots };
    if (!spread) return { stratum, df: null };
    return { stratum, df: satterthwaite(total, slopes, spread, [Math.min(wholePlots, runs), free]) };
  };
  return {
    wholePlots,
    runs,
    terms: along.map((vector) => (vector === null ? { stratum: "runs", df: null } : of(vector))),
    of,
  };
}

/** Z′(I − QQ′)Z: what the model leaves of the whole plots; row-major, whole plots × whole plots. */
function leftBetween({ information, scatter }: ToldModel): Float64Array {
  const count = scatter.sizes.length;
  const left = new Float64Array(count * count);
  scatter.sizes.forEach((size, plot) => (left[plot * count + plot] = size));
  const sums = new Float64Array(count);
  for (const unit of information.orthogonal) {
    plotSums(scatter.plots, unit, sums);
    for (let one = 0; one < count; one += 1) {
      const share = sums[one] ?? 0;
      if (share === 0) continue;
      for (let other = 0; other < count; other += 1) {
        left[one * count + other] = (left[one * count + other] ?? 0) - share * (sums[other] ?? 0);
      }
    }
  }
  return left;
}

function plotSums(plots: Int32Array, column: Float64Array, sums: Float64Array): void {
  sums.fill(0);
  for (let row = 0; row < column.length; row += 1) {
    const plot = plots[row] ?? 0;
    sums[plot] = (sums[plot] ?? 0) + (column[row] ?? 0);
  }
}

/** Rank of a positive semidefinite matrix with entries of this scale, by Cholesky with the largest diagonal first. */
function rankOf(matrix: Float64Array, size: number, scale: number): number {
  const rest = Float64Array.from(matrix);
  const used = new Uint8Array(size);
  for (let rank = 0; rank < size; rank += 1) {
    let at = -1;
    let most = ROUNDING * scale;
    for (let place = 0; place < size; place += 1) {
      const value = rest[place * size + place] ?? 0;
      if (!used[place] && value > most) [at, most] = [place, value];
    }
    if (at < 0) return rank;
    used[at] = 1;
    for (let one = 0; one < size; one += 1) {
      const share = (rest[one * size + at] ?? 0) / most;
      if (share === 0 || used[one]) continue;
      for (let other = 0; other < size; other += 1) {
        rest[one * size + other] = (rest[one * size + other] ?? 0) - share * (rest[at * size + other] ?? 0);
      }
    }
  }
  return size;
}

/** The variance of an estimate, the part of it that stands between whole plots, and its slopes in the two components. */
function partsOf(
  { scatter: { plots, sizes, ratio } }: ToldModel,
  weights: Float64Array,
): { readonly total: number; readonly between: number; readonly slopes: readonly [number, number] } {
  const sums = new Float64Array(sizes.length);
  plotSums(plots, weights, sums);
  let [total, between, setUps] = [0, 0, 0];
  for (const weight of weights) total += weight * weight;
  sums.forEach((sum, plot) => {
    const size = sizes[plot] ?? 1;
    between += (sum * sum) / size;
    setUps += (sum * sum) / (1 + ratio * size);
  });
  return { total, between, slopes: [setUps, total - ratio * setUps] };
}

/** Covariance of the REML estimates of the variance between set-ups and between runs, for σ = 1: entries 11, 12, 22. */
type Spread = readonly [number, number, number];

/**
 * Inverse of the expected REML information ½·tr(P·Vᵢ·P·Vⱼ), V₁ = ZZ′ and V₂ = I, in whitened terms: with S = Z′(I − QQ′)Z and
 * D = diag 1/(1 + ratio·size), V⁻¹ is I − Z·ratio·D·Z′ and every trace is one of S and D.
 */
function componentSpread({ information, scatter: { sizes, ratio } }: ToldModel, left: Float64Array): Spread {
  const count = sizes.length;
  const shrink = sizes.map((size) => 1 / (1 + ratio * size));
  let [trace, squares] = [0, 0];
  for (let one = 0; one < count; one += 1) {
    trace += (shrink[one] ?? 0) * (left[one * count + one] ?? 0);
    for (let other = 0; other < count; other += 1) {
      squares += (shrink[one] ?? 0) * (shrink[other] ?? 0) * (left[one * count + other] ?? 0) ** 2;
    }
  }
  const free = information.rows - information.kept.length;
  const a = squares / 2;
  const b = (trace - ratio * squares) / 2;
  const c = (free - 2 * ratio * trace + ratio * ratio * squares) / 2;
  const determinant = a * c - b * b;
  return [c / determinant, -b / determinant, a / determinant];
}

function satterthwaite(
  variance: number,
  [setUps, runs]: readonly [number, number],
  [v11, v12, v22]: Spread,
  [least, most]: readonly [number, number],
): number {
  const spread = setUps * setUps * v11 + 2 * setUps * runs * v12 + runs * runs * v22;
  // Never fewer than the poorer stratum has, nor more than both together.
  return Math.min(most, Math.max(least, (2 * variance * variance) / spread));
}
