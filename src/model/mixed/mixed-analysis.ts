import { fTail } from "../../numerics/index.ts";
import type { JointTest, MixedInference } from "../../numerics/index.ts";
import { jointSumOfSquares } from "../analysis.ts";
import type { AnalysisRow } from "../fit.ts";
import type { Solved } from "../solved.ts";

/**
 * F tests of the terms, each judged by the scatter of the stratum that it was cut in, in order or each as if it came last; the residual within all sources at the
 * end. Sums of squares are those of plain least squares: in a balanced layout F is exactly their mean square over that of the stratum.
 */
export function mixedAnalysis(
  { plain, mixed }: { readonly plain: Solved; readonly mixed: MixedInference },
  within: { readonly df: number; readonly sumOfSquares: number },
  order: "sequential" | "last",
): readonly AnalysisRow[] {
  const { design, solution } = plain;
  const position = new Map(solution.kept.map((column, k) => [column, k]));
  const rows = design.sources.flatMap((source): AnalysisRow[] => {
    if (source.role === "intercept") return [];
    const own = source.columns.flatMap((column) => position.get(column) ?? []);
    if (own.length === 0) return [];
    const sumOfSquares =
      order === "sequential"
        ? own.reduce((total, k) => total + solution.sequential[k], 0)
        : jointSumOfSquares(plain, own);
    const unit = (k: number): Float64Array => new Float64Array(solution.rank).fill(1, k, k + 1);
    const test: JointTest | null =
      order === "sequential" ? mixed.sequential(own) : mixed.joint(own.map(unit));
    return [
      {
        source: source.label,
        term: source.role === "term" ? source.term : null,
        df: own.length,
        sumOfSquares,
        meanSquare: sumOfSquares / own.length,
        f: test?.f ?? null,
        p: test === null ? null : fTail(test.f, test.df1, test.df2),
        ...(test === null ? {} : { denominatorDf: test.df2 }),
      },
    ];
  });
  if (within.df > 0) {
    rows.push({
      source: "residual",
      term: null,
      df: within.df,
      sumOfSquares: within.sumOfSquares,
      meanSquare: within.sumOfSquares / within.df,
      f: null,
      p: null,
    });
  }
  return rows;
}
