import { fTail, tQuantile } from "../numerics/index.ts";
import { fAgainstResidual, jointSumOfSquares } from "./analysis.ts";
import type { Combined } from "./at-point.ts";
import type { Solved } from "./solved.ts";

/** How sure a combination of coefficients is. */
export interface Judged {
  readonly standardError: number;
  readonly df: number;
  /** Standard errors to either side at the fit's confidence. */
  readonly reach: number;
}

/** The standard error of x′β, x over all columns of the design, and the degrees of freedom that it is known on; null where no error is left. */
export function judged(solved: Solved, x: Float64Array, { cross }: Pick<Combined, "cross">): Judged | null {
  const { mixed, solution, variance, reach, confidence } = solved;
  if (mixed !== undefined) {
    const { standardError, df } = mixed.contrast(Float64Array.from(solution.kept, (column) => x[column]));
    return { standardError, df, reach: tQuantile((1 + confidence) / 2, df) };
  }
  return variance === null ? null : { standardError: Math.sqrt(variance * cross), df: solution.df, reach };
}

/** F test that the coefficients of the kept columns at these positions are all zero; null where there is no error to compare with. */
export function jointTest(
  solved: Solved,
  positions: readonly number[],
): { readonly f: number; readonly p: number; readonly df2: number } | null {
  const { mixed, solution } = solved;
  if (mixed === undefined) {
    const test = fAgainstResidual(solved, jointSumOfSquares(solved, positions), positions.length);
    return test === null ? null : { ...test, df2: solution.df };
  }
  if (positions.length === 0) return null;
  const test = mixed.joint(positions.map((k) => new Float64Array(solution.rank).fill(1, k, k + 1)));
  return test === null ? null : { f: test.f, p: fTail(test.f, test.df1, test.df2), df2: test.df2 };
}
