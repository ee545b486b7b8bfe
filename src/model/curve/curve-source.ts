import { listed } from "../../units/index.ts";
import type { Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Observations } from "../observations.ts";
import { observe } from "../observe.ts";
import type { TableColumn } from "../table-column.ts";
import { parseExpression } from "./parse-expression.ts";

/** Columns of one length, with a name for each row where there is one. */
export interface CurveColumns {
  readonly columns: readonly TableColumn[];
  readonly rowNames?: readonly string[];
}

/** The table that a curve is fitted to, with what was done to make it. Runs of a trial are rows, at the mean of their readings. */
export function curveColumns(
  source: Trial | Observations | CurveColumns,
  response: string,
): { readonly table: CurveColumns; readonly notes: readonly string[] } {
  if ("columns" in source) return { table: source, notes: [] };
  const observations = "spec" in source ? observe(source, responseIn(source, response)) : source;
  if (observations.logScale === true)
    throw modelError(
      "observations of logarithms for a curve",
      "observations made without log",
      `Fit the logarithm by the response "log(${observations.response.name})".`,
    );
  const { name, unit } = observations.response;
  const clash = observations.factors.find((factor) => factor.name === name);
  if (clash !== undefined) throw modelError(`${name} as a factor and the response`, "two names");
  return {
    table: {
      columns: [
        ...observations.factors.map((factor) => ({
          name: factor.name,
          unit: factor.unit,
          values: observations.rows.map((row) => row.settings[factor.name]),
        })),
        { name, unit, values: observations.rows.map((row) => row.value) },
      ],
      rowNames: observations.rows.map((row) => `run ${row.run}`),
    },
    notes: observations.notes ?? [],
  };
}

/** The response of a trial that is asked for by name, or in an expression of it such as log(Ra). */
function responseIn({ spec }: Trial, asked: string): string {
  const names = spec.responses.map((response) => response.name);
  if (names.includes(asked)) return asked;
  const used = parseExpression(asked).names.filter((name) => names.includes(name));
  if (used.length === 1) return used[0];
  throw modelError(
    `the response "${asked}"`,
    `one of ${listed(names, "or")}, or an expression of one such as log(${names[0] ?? "Ra"})`,
  );
}
