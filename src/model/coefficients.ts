import { tTwoSided } from "../numerics/index.ts";
import { columnLabel, columnTerm } from "./design.ts";
import { modelError } from "./error.ts";
import type { Coefficient } from "./fit.ts";
import type { Solved } from "./solved.ts";
import type { ToldCoefficients } from "./told-coefficients.ts";

/** The coefficients that are told, each with its interval. */
export function coefficientTable(solved: Solved, told: ToldCoefficients): readonly Coefficient[] {
  const { solution, design, variance, reach } = solved;
  const { df } = solution;
  return solution.kept.map((place, k) => {
    const column = design.columns[place];
    const estimate = told.estimates[k];
    const named = { term: columnTerm(design, column), label: columnLabel(design, column), estimate };
    if (variance === null)
      return { ...named, standardError: null, low: null, high: null, t: null, df, p: null };
    const standardError = Math.sqrt(variance * told.crossDiagonal[k]);
    if (!Number.isFinite(estimate) || !Number.isFinite(standardError)) {
      throw modelError(
        `settings whose coefficient of ${named.label} is beyond the range of numbers`,
        "settings of a usual size",
        "Give them in another unit.",
      );
    }
    const t = standardError > 0 ? estimate / standardError : null;
    return {
      ...named,
      standardError,
      low: estimate - reach * standardError,
      high: estimate + reach * standardError,
      t,
      df,
      p: t === null ? null : tTwoSided(t, df),
    };
  });
}

/** The covariance of the told coefficients. */
export function covarianceOf(
  { variance, solution }: Solved,
  told: ToldCoefficients,
): readonly (readonly number[])[] | null {
  if (variance === null) return null;
  const cross = told.cross();
  return Array.from({ length: solution.rank }, (_, i) =>
    Array.from({ length: solution.rank }, (__, j) => variance * cross[i * solution.rank + j]),
  );
}
