import { leastSquares } from "../numerics/index.ts";
import { listed } from "../units/index.ts";
import { modelError } from "./error.ts";
import type { Fit } from "./fit.ts";
import { toldMatrix } from "./term-values.ts";
import { rounded, unitText } from "./words.ts";

/** One coefficient by least squares beside the robust one. */
export interface RobustCoefficient {
  readonly label: string;
  readonly leastSquares: number;
  readonly robust: number;
  /** robust less least squares, in standard errors of least squares; null without scatter. */
  readonly difference: number | null;
}

/** A whole model fitted so that single runs can't pull it, beside least squares. */
export interface RobustFit {
  readonly coefficients: readonly RobustCoefficient[];
  /** Standard deviation of a run that behaves; null where more than half of the runs are met exactly. */
  readonly scale: number | null;
  /** How much each run counts, 0 to 1, in the order of the fit's rows. */
  readonly weights: readonly number[];
  /** Runs that count less than half. */
  readonly setAside: readonly number[];
  /** Whether every coefficient is within a standard error of least squares; null without scatter. */
  readonly agrees: boolean | null;
  readonly converged: boolean;
  readonly text: string;
}

/** With 95 % of the efficiency of least squares where scatter is normal. */
const bisquareTuning = 4.685;
/** The median of |z| of a standard normal. */
const normalMedian = 0.6744897501960817;

/**
 * A robust second opinion on a whole model, categories, several factors and blocks included: Tukey's bisquare with tuning 4.685, 95 % efficient under normal scatter, from a start by least absolute residuals, the scale from the median absolute residual (all but the residuals that the model's own terms take up). It guards against readings that lie far off, not
 * against a single run at a far-out setting (look at its leverage). It has no intervals of its own here: its use is the difference, which is said.
 * On normal scatter of 20 runs a slope differs from least squares by a whole standard error in fewer than 8 trials of 100, so that one is evidence that single runs pull.
 * Refused: weighted fits, and fits with no degrees of freedom left.
 * Source: Huber and Ronchetti 2009, Robust Statistics, chapter 7; Holland and Welsch 1977, Communications in Statistics A 6, 813–827 (tuning).
 * Example: y = 1, 2, 3, 4, 50 at x = 1, …, 5 gives a slope of 1 where least squares gives 10.
 */
export function robustFit(fit: Fit): RobustFit {
  if (fit.weights !== null) throw modelError("a weighted fit for a robust one", "rows that count alike");
  if (fit.residualDf < 1)
    throw modelError(
      `${fit.rows.length} runs for ${fit.coefficients.length} terms`,
      "runs left over, to tell one that lies off from the rest",
      "Ask for fewer terms, or cut replicates.",
    );
  const matrix = toldMatrix(fit);
  const columns = fit.coefficients.map((_, k) => ({ high: Float64Array.from(matrix, (row) => row[k]) }));
  const response = Float64Array.from(fit.rows, ({ value }) => value);
  const solve = (weights: readonly number[]) =>
    leastSquares(columns, response, { weights: Float64Array.from(weights) });
  const final = iterated(solve, leastAbsolute(solve, fit), fit, (u) =>
    u < bisquareTuning ? (1 - (u / bisquareTuning) ** 2) ** 2 : 0,
  );
  const coefficients = fit.coefficients.map(({ label, estimate, standardError }, k): RobustCoefficient => {
    const place = final.kept.indexOf(k);
    const robust = place < 0 ? estimate : final.coefficients[place];
    const far = standardError === null || !(standardError > 0) ? null : (robust - estimate) / standardError;
    return { label, leastSquares: estimate, robust, difference: far };
  });
  const setAside = fit.rows.filter((_, i) => final.weights[i] < 0.5).map(({ run }) => run);
  const lost = final.kept.length < columns.length;
  const told = coefficients.some(({ difference }) => difference !== null);
  const agrees =
    told && !lost ? coefficients.every(({ difference }) => Math.abs(difference ?? 0) <= 1) : null;
  const found = { coefficients, scale: final.scale, weights: final.weights, setAside, agrees };
  return { ...found, converged: final.converged, text: inWords(fit, found, lost) };
}

interface Step {
  readonly kept: readonly number[];
  readonly coefficients: Float64Array;
  readonly residuals: readonly number[];
  readonly weights: readonly number[];
  readonly scale: number | null;
  readonly converged: boolean;
}

/** Residuals of the fit with the least sum of absolute residuals, near enough to start from: least squares weighted by one over the residual. */
function leastAbsolute(
  solve: (weights: readonly number[]) => ReturnType<typeof leastSquares>,
  fit: Fit,
): readonly number[] {
  let residuals: readonly number[] = fit.rows.map(({ residual }) => residual);
  const largest = residuals.reduce((most, residual) => Math.max(most, Math.abs(residual)), 0);
  if (!(largest > 0)) return residuals;
  let least = largest / 10;
  for (let step = 0; step < 60; step++) {
    residuals = [...solve(residuals.map((residual) => 1 / Math.max(Math.abs(residual), least))).residuals];
    least = Math.max(least * 0.7, 1e-7 * largest);
  }
  return residuals;
}

/** Least squares again and again, each run weighted by how far it lay off before. */
function iterated(
  solve: (weights: readonly number[]) => ReturnType<typeof leastSquares>,
  from: readonly number[],
  fit: Fit,
  weightOf: (u: number) => number,
): Step {
  let residuals = from;
  let weights: readonly number[] = from.map(() => 1);
  let solution = solve(weights);
  const size = fit.rows.reduce((most, { value }) => Math.max(most, Math.abs(value)), 0);
  for (let step = 0; step < 200; step++) {
    const scale = medianScale(residuals, fit);
    // More than half of the runs on the model: the others are set aside, and there is no scale to weigh by.
    if (!(scale > 1e-12 * size)) {
      const exact = residuals.map((residual) => (Math.abs(residual) <= 1e-9 * size ? 1 : 0));
      const enough = exact.filter((one) => one === 1).length >= solution.rank;
      const last = enough ? solve(exact) : solution;
      return { ...stepOf(last), weights: enough ? exact : weights, scale: null, converged: enough };
    }
    weights = residuals.map((residual) => weightOf(Math.abs(residual) / scale));
    solution = solve(weights);
    const next = [...solution.residuals];
    const moved = next.reduce((most, value, i) => Math.max(most, Math.abs(value - residuals[i])), 0);
    residuals = next;
    if (moved < 1e-10 * scale) return { ...stepOf(solution), weights, scale, converged: true };
  }
  return { ...stepOf(solution), weights, scale: medianScale(residuals, fit), converged: false };
}

function stepOf(
  solution: ReturnType<typeof leastSquares>,
): Pick<Step, "kept" | "coefficients" | "residuals"> {
  return { kept: solution.kept, coefficients: solution.coefficients, residuals: [...solution.residuals] };
}

/** The median absolute residual as a standard deviation; as many of the smallest as the model has terms are near zero by its own doing and are left out. */
function medianScale(residuals: readonly number[], fit: Fit): number {
  const sorted = residuals.map(Math.abs).sort((a, b) => a - b);
  const free = sorted.slice(Math.min(fit.coefficients.length, sorted.length - 1));
  const middle = Math.floor(free.length / 2);
  const median = free.length % 2 === 1 ? free[middle] : (free[middle - 1] + free[middle]) / 2;
  return median / normalMedian;
}

function inWords(fit: Fit, found: Omit<RobustFit, "text" | "converged">, lost: boolean): string {
  const { coefficients, setAside, agrees } = found;
  const runs = listed(setAside.map(String));
  const who =
    setAside.length === 0
      ? ""
      : ` It sets aside run${setAside.length > 1 ? "s" : ""} ${runs}: look at ${setAside.length > 1 ? "them" : "it"}.`;
  if (lost)
    return `A robust fit of ${fit.response.name} has to set aside whole settings, so not every term can be told by it.${who}`;
  if (agrees === null)
    return `A robust fit of ${fit.response.name} can't be set beside least squares, which has no scatter here.${who}`;
  if (agrees)
    return `A robust fit of ${fit.response.name} agrees with least squares: every term is within a standard error.${who}`;
  const far = coefficients
    .filter(({ difference }) => Math.abs(difference ?? 0) > 1)
    .sort((a, b) => Math.abs(b.difference!) - Math.abs(a.difference!))
    .slice(0, 3)
    .map(({ label, leastSquares: least, robust, difference }) => {
      const error = Math.abs((robust - least) / difference!);
      const unit = fit.logScale ? "" : unitText(fit.response.unit);
      return `${label} ${rounded(robust, error)} in place of ${rounded(least, error)}${label === "intercept" ? unit : ""}`;
    });
  return `A robust fit of ${fit.response.name} differs from least squares by more than a standard error: ${listed(far)}; single runs pull.${who}`;
}
