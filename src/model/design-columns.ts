import { powerColumn, productColumn } from "../numerics/index.ts";
import type { DesignColumn } from "../numerics/index.ts";
import type { Design } from "./design.ts";
import { columnLabel, elementaryValue } from "./design.ts";
import { modelError } from "./error.ts";
import type { Observation, ObservedBlocks } from "./observations.ts";

/** The columns of a design for the rows of the observations, differences, powers and products in double-double. */
export function designColumns(
  design: Design,
  rows: readonly Observation[],
  blocks: ObservedBlocks | undefined,
): readonly DesignColumn[] {
  const n = rows.length;
  const made = new Map<number, DesignColumn>();
  const centred = (index: number): DesignColumn => {
    const known = made.get(index);
    if (known !== undefined) return known;
    const elementary = design.elementaries[index];
    const values = new Float64Array(n);
    const plain = elementary.factor >= 0 && elementary.level === undefined && !elementary.logarithm;
    for (let i = 0; i < n; i++) {
      // The plain number first: most columns hold nothing else, and this loop is most of what a fit costs beyond least squares.
      const setting = plain ? rows[i].settings[elementary.name] : undefined;
      values[i] =
        typeof setting === "number" && Number.isFinite(setting)
          ? setting
          : elementaryValue(elementary, rows[i], design.factors, blocks);
    }
    const column = centredColumn(values, elementary.centre);
    made.set(index, column);
    return column;
  };
  return design.columns.map((column) => {
    const { parts } = column;
    if (parts.length === 0) return { high: new Float64Array(n).fill(1) };
    const product = parts
      .map(({ elementary, degree }) => raised(centred(elementary), degree))
      .reduce((all, part) => productColumn(all, part));
    const beyond = product.high.findIndex((entry) => !Number.isFinite(entry));
    if (beyond < 0) return product;
    throw modelError(
      `run ${rows[beyond].run}: settings whose ${columnLabel(design, column)} is beyond the largest number`,
      "settings of a usual size",
      "Give them in a larger unit.",
    );
  });
}

/** The columns' values at one point, given by the elementary values before centring. */
export function columnsAt(design: Design, values: Float64Array): Float64Array {
  const { columns, elementaries } = design;
  const point = new Float64Array(columns.length);
  for (let k = 0; k < columns.length; k++) {
    let product = 1;
    for (const { elementary, degree } of columns[k].parts) {
      const value = values[elementary] - elementaries[elementary].centre;
      product *= degree === 1 ? value : value ** degree;
    }
    point[k] = product;
  }
  return point;
}

/** The elementary values in the middle: quantities half-way, categories and blocks with their levels evenly weighted. */
export function middleValues({ elementaries }: Design): Float64Array {
  const values = new Float64Array(elementaries.length);
  for (let k = 0; k < elementaries.length; k++) values[k] = elementaries[k].middle;
  return values;
}

/** value − centre with what the double loses (Knuth's exact sum); `low` is left out where nothing is lost. */
function centredColumn(values: Float64Array, centre: number): DesignColumn {
  if (centre === 0) return { high: values };
  const high = new Float64Array(values.length);
  const low = new Float64Array(values.length);
  let lost = false;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    const difference = value - centre;
    const part = difference - value;
    high[i] = difference;
    low[i] = value - (difference - part) + (-centre - part);
    if (low[i] !== 0) lost = true;
  }
  return lost ? { high, low } : { high };
}

function raised(column: DesignColumn, degree: number): DesignColumn {
  if (degree === 1) return column;
  if (column.low === undefined) return powerColumn(column.high, degree);
  let product = column;
  for (let k = 1; k < degree; k++) product = productColumn(product, column);
  return product;
}
