import type { ConditionalRows } from "../../numerics/index.ts";
import type { FittedRow } from "../fit.ts";
import type { Observations } from "../observations.ts";

/**
 * Rows with what the fixed part and the levels' predicted effects say of them. Studentised residuals are judged without the row itself as in a plain
 * fit (t = r·√((df − 1)/(df − r²)), which is exact there and near here); Cook's distance has no like in a mixed fit and is null.
 */
export function mixedRows(
  { rows }: Observations,
  response: Float64Array,
  { fitted, residuals, leverage, within }: ConditionalRows,
  variance: number,
): readonly FittedRow[] {
  const { df } = within;
  return rows.map((row, i): FittedRow => {
    const free = leverage === null ? 0 : 1 - leverage[i];
    const inner = free > 1e-10 ? residuals[i] ** 2 / (variance * free) : NaN;
    const usable = df > 1 && inner < df * (1 - 1e-9);
    return {
      ...row,
      value: response[i],
      fitted: fitted[i],
      residual: residuals[i],
      leverage: leverage === null ? null : leverage[i],
      studentised: usable ? Math.sign(residuals[i]) * Math.sqrt((inner * (df - 1)) / (df - inner)) : null,
      cookDistance: null,
    };
  });
}
