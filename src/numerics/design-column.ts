import { multiplyExactly, twoProduct } from "./double-double.ts";
import { numericsError } from "./error.ts";

/** A column of a design matrix; `low` holds what the double in `high` lost (double-double), for generated powers and products. */
export interface DesignColumn {
  readonly high: Float64Array;
  readonly low?: Float64Array;
}

/**
 * The entries raised to a whole power, kept in double-double, so that a polynomial of tenth degree keeps its digits.
 * Example: `powerColumn(Float64Array.of(0.1), 2)` has high 0.010000000000000002 and low −8.33e-19, whose sum is the exact square of the double 0.1.
 */
export function powerColumn(values: Float64Array, power: number): DesignColumn {
  if (!Number.isInteger(power) || power < 0)
    throw numericsError(`the power ${power}`, "a whole number, 0 or more");
  let column: DesignColumn = { high: new Float64Array(values.length).fill(1) };
  for (let k = 0; k < power; k++)
    column = k === 0 ? { high: Float64Array.from(values) } : productColumn(column, { high: values });
  return column;
}

/** Entry by entry product of two columns of one length, kept in double-double. */
export function productColumn(a: DesignColumn, b: DesignColumn): DesignColumn {
  const n = a.high.length;
  if (b.high.length !== n) throw numericsError(`columns of ${n} and ${b.high.length} entries`, "one length");
  const high = new Float64Array(n);
  const low = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const aLow = a.low?.[i] ?? 0;
    const bLow = b.low?.[i] ?? 0;
    const product =
      aLow === 0 && bLow === 0
        ? twoProduct(a.high[i], b.high[i])
        : multiplyExactly({ high: a.high[i], low: aLow }, { high: b.high[i], low: bLow });
    high[i] = product.high;
    low[i] = product.low;
  }
  return { high, low };
}
