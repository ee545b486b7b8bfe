import { leastSquares, refitter } from "../../numerics/index.ts";
import type { Fit } from "../fit.ts";
import { toldMatrix } from "../term-values.ts";

/** A row whose fitted value it decides to within this share can't be predicted from the others. */
const decides = 1e-9;
const agreement = 1e-8;

/**
 * What each row comes out as when its part is left out of the fit; null where the rest can't tell. Single rows by their leverage, exactly; larger parts by
 * refits with weight 0; blocks that have a level of their own as a block not met before, at the mean of the others.
 */
export function leftOut(
  fit: Fit,
  { of, count }: { readonly of: Int32Array; readonly count: number },
  options: { readonly newBlocks: boolean },
): readonly (number | null)[] {
  if (options.newBlocks) return byBlock(fit, of, count);
  if (count === fit.rows.length)
    return fit.rows.map(({ value, residual, leverage }) => {
      const free = 1 - (leverage ?? 1);
      return free > decides ? value - residual / free : null;
    });
  const rows = toldMatrix(fit);
  const { reweigh } = refitter(
    fit.coefficients.map((_, k) => ({ high: Float64Array.from(rows, (row) => row[k]) })),
    fit.weights === null ? {} : { weights: Float64Array.from(fit.weights) },
  );
  const response = Float64Array.from(fit.rows, ({ value }) => value);
  const predicted: (number | null)[] = fit.rows.map(() => null);
  for (let part = 0; part < count; part++) {
    const again = reweigh(
      response,
      Float64Array.from(of, (one) => (one === part ? 0 : 1)),
    );
    if (again === undefined) continue;
    rows.forEach((row, i) => {
      if (of[i] !== part) return;
      predicted[i] = row.reduce((sum, value, k) => sum + value * again.coefficients[k], 0);
    });
  }
  return predicted;
}

function byBlock(fit: Fit, of: Int32Array, count: number): readonly (number | null)[] {
  const { name } = fit.blocks!;
  const isBlock = fit.coefficients.map(({ term }) =>
    Object.keys(term).some((key) => key.startsWith(`${name}=`)),
  );
  const own = toldMatrix(fit).map((row) => row.filter((_, k) => !isBlock[k]));
  const predicted: (number | null)[] = fit.rows.map(() => null);
  for (let part = 0; part < count; part++) {
    const others = [...new Set(of)].filter((one) => one !== part);
    // Told about their mean, so that a block not met before stands at 0.
    const levels = others.slice(1);
    const row = (i: number): Float64Array =>
      Float64Array.of(
        ...own[i],
        ...levels.map((one) => (of[i] === part ? 0 : (of[i] === one ? 1 : 0) - 1 / others.length)),
      );
    const used = fit.rows.flatMap((_, i) => (of[i] === part ? [] : [i]));
    const rows = used.map(row);
    const { coefficients, kept, dropped } = leastSquares(
      rows[0] === undefined
        ? []
        : [...rows[0]].map((_, k) => ({ high: Float64Array.from(rows, (one) => one[k]) })),
      Float64Array.from(used, (i) => fit.rows[i].value),
      fit.weights === null ? {} : { weights: Float64Array.from(used, (i) => fit.weights![i]) },
    );
    fit.rows.forEach((_, i) => {
      if (of[i] !== part) return;
      const at = row(i);
      const told = dropped.every(({ column, on }) => {
        const carried = on.reduce((sum, piece) => sum + piece.coefficient * at[piece.column], 0);
        return Math.abs(at[column] - carried) <= agreement * (1 + Math.abs(at[column]) + Math.abs(carried));
      });
      if (told) predicted[i] = kept.reduce((sum, place, k) => sum + at[place] * coefficients[k], 0);
    });
  }
  return predicted;
}
