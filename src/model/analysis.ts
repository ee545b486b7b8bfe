import { fTail } from "../numerics/index.ts";
import type { AnalysisRow } from "./fit.ts";
import type { Source } from "./design.ts";
import type { Solved } from "./solved.ts";

/**
 * The analysis of variance in the order of the terms: what each adds to those before it. A category is one source with all of its
 * levels. A term that can't be told apart from earlier ones has no line (it is named in `inseparable`). About zero through the origin.
 */
export function sequentialAnalysis(solved: Solved): readonly AnalysisRow[] {
  const { sequential, kept } = solved.solution;
  const sums = new Map(kept.map((column, k) => [column, sequential[k]]));
  return analysis(solved, (source) => {
    const own = source.columns.filter((column) => sums.has(column));
    return { df: own.length, sumOfSquares: own.reduce((total, column) => total + sums.get(column)!, 0) };
  });
}

/**
 * What each term adds to all others: b′C⁻¹b of its columns, without a second fit. Where products are in the model, a factor is tested
 * in the middle of the others: columns are centred, so this is the line that a balanced layout has in either analysis.
 */
export function lastAnalysis(solved: Solved): readonly AnalysisRow[] {
  const position = new Map(solved.solution.kept.map((column, k) => [column, k]));
  return analysis(solved, (source) => {
    const own = source.columns.flatMap((column) => position.get(column) ?? []);
    return { df: own.length, sumOfSquares: jointSumOfSquares(solved, own) };
  });
}

/** b′C⁻¹b over the kept columns at these positions: the sum of squares that leaving them out would cost. */
export function jointSumOfSquares({ solution }: Solved, positions: readonly number[]): number {
  const { coefficients, inverseCross, rank } = solution;
  if (positions.length === 0) return 0;
  const size = positions.length;
  const scale = positions.map((k) => 1 / Math.sqrt(inverseCross[k * rank + k]));
  // Forward substitution with the Cholesky factor, built row by row: the squared length of L⁻¹b.
  const factor = new Float64Array(size * size);
  const solved = new Float64Array(size);
  let total = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = inverseCross[positions[i] * rank + positions[j]] * scale[i] * scale[j];
      for (let k = 0; k < j; k++) rest -= factor[i * size + k] * factor[j * size + k];
      factor[i * size + j] = i === j ? Math.sqrt(rest) : rest / factor[j * size + j];
    }
    let rest = coefficients[positions[i]] * scale[i];
    for (let k = 0; k < i; k++) rest -= factor[i * size + k] * solved[k];
    solved[i] = rest / factor[i * size + i];
    total += solved[i] ** 2;
  }
  return total;
}

/** F of a sum of squares against the residual mean square; null where there is none to compare with. */
export function fAgainstResidual(
  solved: Solved,
  sumOfSquares: number,
  df: number,
): { f: number; p: number } | null {
  const { variance, solution } = solved;
  if (variance === null || variance === 0 || df === 0) return null;
  const f = sumOfSquares / df / variance;
  return { f, p: fTail(f, df, solution.df) };
}

function analysis(
  solved: Solved,
  part: (source: Source) => { readonly df: number; readonly sumOfSquares: number },
): readonly AnalysisRow[] {
  const rows: AnalysisRow[] = [];
  for (const source of solved.design.sources) {
    if (source.role === "intercept") continue;
    const { df, sumOfSquares } = part(source);
    if (df === 0) continue;
    const test = fAgainstResidual(solved, sumOfSquares, df);
    rows.push({
      source: source.label,
      term: source.role === "term" ? source.term : null,
      df,
      sumOfSquares,
      meanSquare: sumOfSquares / df,
      f: test?.f ?? null,
      p: test?.p ?? null,
    });
  }
  const { df, residualSumOfSquares } = solved.solution;
  if (df > 0) {
    const residual = { df, sumOfSquares: residualSumOfSquares, meanSquare: residualSumOfSquares / df };
    rows.push({ source: "residual", term: null, ...residual, f: null, p: null });
  }
  return rows;
}
