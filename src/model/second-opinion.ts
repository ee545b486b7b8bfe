import { listed } from "../units/index.ts";
import { TheilSenRegression } from "ml-regression";
import { modelError } from "./error.ts";
import type { Coefficient, Fit } from "./fit.ts";
import { isMixedFit } from "./mixed/index.ts";
import { robustFit } from "./robust-fit.ts";
import { differenceText, percent, rounded, unitText } from "./words.ts";

/** A slope by least squares beside one that single runs can't pull. */
export interface SecondOpinion {
  readonly factor: string;
  /** Null where `reason` says why. */
  readonly leastSquares: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** The median of the slopes between all pairs of runs. */
  readonly robust: number | null;
  /** Whether the two differ by no more than the standard error of least squares; null without one. */
  readonly agrees: boolean | null;
  readonly reason: string;
  readonly text: string;
}

/** All pairs of more rows than this are too many to look at. */
const mostRows = 3000;

/**
 * A robust second opinion on the slope of one quantity: the median of the slopes between all pairs of runs, after what the other terms
 * explain has been taken off (Theil 1950; Sen 1968, Journal of the American Statistical Association 63, 1379–1389). In a power law the
 * slope is the exponent. Use it before believing a slope that a few runs may have made; it is no replacement, having no interval
 * here. Told with a reason and no slope where the factor has a square or products in the model (there is no one slope), where other terms
 * moved along with it, and beyond 3,000 rows. Refuses an unknown factor and a category.
 * On runs with normal scatter the two differ by 0.3 to 0.4 of a standard error, and by a whole one in 1 trial of 100 with ten runs (3 of 100
 * with six, by simulation), so a whole one is evidence that a few runs pull.
 * Example: of y = 1, 2, 3, 4, 50 at x = 1, 2, 3, 4, 5 least squares makes 10 and the second opinion 1.
 */
export function secondOpinion(fit: Fit, factor: string): SecondOpinion {
  const quantities = fit.factors.filter(({ kind }) => kind === "quantity").map(({ name }) => name);
  if (!quantities.includes(factor))
    throw modelError(`"${factor}" for a slope`, `a quantity: ${listed(quantities, "or")}`);
  const reason = whyNot(fit, factor);
  const coefficient = fit.coefficients.find(
    ({ term }) => Object.keys(term).length === 1 && term[factor] === 1,
  );
  if (reason !== "" || coefficient === undefined) {
    const why = reason === "" ? `${factor} has no slope in this model` : reason;
    return {
      factor,
      leastSquares: null,
      low: null,
      high: null,
      robust: null,
      agrees: null,
      reason: why,
      text: `No second opinion on ${factor}: ${why}.`,
    };
  }
  const x = fit.rows.map((row) => placeOf(fit, factor, Number(row.settings[factor])));
  // What is left of each row once the other terms are taken off: its residual and the factor's own part.
  const y = fit.rows.map((row, i) => row.residual + coefficient.estimate * x[i]);
  const robust = new TheilSenRegression(x, y).slope;
  const { estimate, low, high, standardError } = coefficient;
  // Runs that are met exactly have no scatter; rounding is not a disagreement.
  const agrees =
    standardError === null
      ? null
      : Math.abs(robust - estimate) <= Math.max(standardError, 1e-9 * Math.abs(estimate));
  return {
    factor,
    leastSquares: estimate,
    low,
    high,
    robust,
    agrees,
    reason: "",
    text: inWords(fit, factor, coefficient, robust, agrees),
  };
}

/**
 * The robust second opinion that suits a fit, in words: on a single slope the median over all pairs of runs (`secondOpinion`), on any other model Tukey's
 * bisquare (`robustFit`), which takes categories, blocks and products along. Empty where there can be none: weighted rows, several sources of scatter, no run left
 * over, a mean alone, or beyond 3,000 rows.
 */
export function secondOpinionOn(fit: Fit): string {
  const moving = fit.terms.filter((term) => Object.keys(term).length > 0);
  if (
    isMixedFit(fit) ||
    moving.length === 0 ||
    fit.weights !== null ||
    fit.residualDf < 1 ||
    fit.rows.length > mostRows
  )
    return "";
  const [[name, degree]] = Object.entries(moving[0]);
  const quantity = fit.factors.some((factor) => factor.name === name && factor.kind === "quantity");
  const slope = moving.length === 1 && Object.keys(moving[0]).length === 1 && degree === 1 && quantity;
  return slope && fit.blocks === null && fit.inseparable.length === 0
    ? secondOpinion(fit, name).text
    : robustFit(fit).text;
}

function whyNot(fit: Fit, factor: string): string {
  if (fit.rows.length > mostRows) return `${fit.rows.length} rows make too many pairs`;
  if (fit.weights !== null) return "the rows are weighted, and pairs of runs are not";
  const others = fit.terms.filter(
    (term) => Object.hasOwn(term, factor) && (Object.keys(term).length > 1 || term[factor] > 1),
  );
  if (others.length > 0) return `its slope is not the same everywhere in this model`;
  const set = fit.inseparable.find(({ labels }) => labels.includes(factor));
  return set === undefined ? "" : set.text;
}

/** The setting on the scale that the coefficient is told for. */
function placeOf(fit: Fit, name: string, setting: number): number {
  const { low, high } = fit.factors.find((one) => one.name === name)!;
  const scale = fit.kind === "power-law" ? Math.log : (value: number) => value;
  if (fit.scale === "natural") return scale(setting);
  return (scale(setting) - (scale(low) + scale(high)) / 2) / ((scale(high) - scale(low)) / 2);
}

function inWords(
  fit: Fit,
  factor: string,
  { estimate, low, high }: Coefficient,
  robust: number,
  agrees: boolean | null,
): string {
  const half = low === null || high === null ? Math.abs(estimate) / 100 : (high - low) / 2;
  const unit = fit.kind === "power-law" ? "" : slopeUnit(fit, factor);
  const what = fit.kind === "power-law" ? `exponent of ${factor}` : `slope of ${factor}`;
  const range =
    low === null || high === null
      ? ""
      : `, ${percent(fit.confidence)} ${rounded(low, half)} to ${rounded(high, half)}`;
  const start = `Least squares gives the ${what} as ${rounded(estimate, half)}${unit}${range}; the median over all pairs of runs is ${rounded(robust, half)}`;
  if (agrees === null) return `${start}.`;
  if (agrees) return `${start}, less than a standard error from it.`;
  const far = fit.rows
    .filter((row) => row.studentised !== null && Math.abs(row.studentised) > 2.5)
    .map((row) => row.run);
  const who = far.length === 0 ? "" : ` Look at run ${listed(far.map(String))}, which lies far off.`;
  return `${start}, more than a standard error from it: a few runs pull the slope.${who}`;
}

function slopeUnit(fit: Fit, factor: string): string {
  const response = differenceText(fit.response.unit);
  const own = unitText(fit.factors.find(({ name }) => name === factor)!.unit);
  if (response === "" || own === "" || fit.logScale || fit.scale === "coded") return "";
  return `${response} per${own}`;
}
