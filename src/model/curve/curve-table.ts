import { listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { TableColumn } from "../table-column.ts";
import { requireUsualSize } from "../usual-size.ts";
import { newGraph } from "./graph.ts";
import { lower } from "./lower.ts";
import { parseExpression } from "./parse-expression.ts";
import { compile } from "./program.ts";

/** The rows that a curve is fitted to, as numbers. */
export interface CurveTable {
  readonly response: { readonly name: string; readonly unit: string; readonly values: Float64Array };
  /** In the order asked for. */
  readonly columns: readonly Float64Array[];
  readonly weights: Float64Array | undefined;
  readonly rowNames: readonly string[];
  readonly notes: readonly string[];
}

/** Takes the columns that are used, leaves out rows with a blank among them, and computes the response where it is an expression of columns. */
export function curveTable(
  table: { readonly columns: readonly TableColumn[]; readonly rowNames?: readonly string[] },
  response: string,
  used: readonly string[],
  weights: readonly number[] | undefined,
): CurveTable {
  const own = table.columns.find(({ name }) => name === response);
  const all = table.columns.map(({ name }) => name);
  const made = own === undefined ? parseExpression(response) : null;
  if (made !== null && made.names.length === 1 && made.root.kind === "name")
    throw modelError(`the unknown column "${response}" as response`, `one of ${listed(all, "or")}`);
  const graph = newGraph();
  const node = made === null ? null : lower(graph, made, { columns: all, parameters: [] });
  const needed = [
    ...new Set([...used, ...(made === null ? [response] : made.names.filter((name) => all.includes(name)))]),
  ];
  const length = table.columns[0]?.values.length ?? 0;
  if (weights !== undefined && weights.length !== length)
    throw modelError(`${weights.length} weights for ${length} rows`, "one weight a row");
  const nameOf = (i: number): string => table.rowNames?.[i] ?? `row ${i + 1}`;
  const cells = needed.map((name) => {
    const column = table.columns.find((one) => one.name === name)!;
    return column.values.map((cell, i) => numberIn(cell, name, nameOf(i)));
  });
  const kept = Array.from({ length }, (_, i) => i).filter((i) => cells.every((column) => column[i] !== null));
  if (kept.length === 0)
    throw modelError(`no row with ${listed(needed)}`, "at least one row with a number in each");
  const numbers = (name: string): Float64Array => {
    const column = cells[needed.indexOf(name)];
    return Float64Array.from(kept, (i) => column[i]!);
  };
  const values = made === null ? numbers(response) : new Float64Array(kept.length);
  if (node !== null) {
    const program = compile(
      graph,
      [node],
      all.map((name) => (needed.includes(name) ? numbers(name) : new Float64Array(kept.length))),
      kept.length,
    );
    program.run(new Float64Array(0));
    program.read(0, values, 0);
  }
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0)
    throw modelError(`${nameOf(kept[bad])}: ${response} is ${values[bad]}`, "a finite number in every row");
  requireUsualSize(values, `readings of ${response}`);
  const left = length - kept.length;
  return {
    response: { name: response, unit: own?.unit ?? "", values },
    columns: used.map(numbers),
    weights: weights === undefined ? undefined : Float64Array.from(kept, (i) => weights[i]),
    rowNames: kept.map(nameOf),
    notes:
      left === 0
        ? []
        : [
            `${left} ${left === 1 ? "row was" : "rows were"} left out: a cell of ${listed(needed, "or")} is blank.`,
          ],
  };
}

function numberIn(cell: string | number | null, column: string, row: string): number | null {
  if (cell === null || (typeof cell === "string" && cell.trim() === "")) return null;
  const value = typeof cell === "number" ? cell : Number(cell);
  if (Number.isFinite(value)) return value;
  throw modelError(`${row}: ${column} "${cell}"`, "a number");
}
