import {
  factorNamed,
  nearestName,
  whyNotASetting,
  type AsCut,
  type Run,
  type TrialSpec,
} from "../trial/index.ts";
import { namedColumns, wholeNumber } from "./columns.ts";
import { plainDialect, type Dialect } from "./dialect.ts";
import { quoted, storeError } from "./error.ts";
import { typedNumber } from "./number-field.ts";
import type { DataTable } from "./read-table.ts";
import { tidyNote, typedCell } from "./typed-text.ts";
import { writeCsv } from "./write-csv.ts";

export const asCutFile = "as-cut.csv";

/** The text of as-cut.csv: one row for each factor of a run that was cut otherwise than planned. */
export function formatAsCut(asCut: readonly AsCut[], dialect: Dialect = plainDialect): string {
  return writeCsv(
    [
      { header: "run", cells: asCut.map((note) => note.run) },
      { header: "factor", cells: asCut.map((note) => note.factor) },
      {
        header: "value",
        cells: asCut.map(({ value, text }) =>
          typeof value === "number" ? typedCell(value, text, dialect) : value,
        ),
      },
      { header: "unit", cells: asCut.map((note) => note.unit) },
      { header: "reason", cells: asCut.map((note) => note.reason) },
    ],
    dialect,
  );
}

/** The notes of as-cut.csv. Refused, with line, run and field: what names no run or factor, or can't stand for the factor. */
export function parseAsCut(
  table: DataTable,
  spec: Pick<TrialSpec, "factors">,
  runs: readonly Run[],
): readonly AsCut[] {
  const columns = namedColumns(table, ["run", "factor", "value"], ["unit", "reason"]);
  const known = new Set(runs.map((run) => run.run));
  const names = spec.factors.map((factor) => factor.name);
  return table.lines.map((line, row) => {
    const run = wholeNumber(columns.cell("run", row), { file: table.file, line, field: "run" });
    const place = { file: table.file, line, run };
    if (!known.has(run))
      throw storeError(
        { ...place, field: "run" },
        `the plan has no run ${run}. Mend the number, or add the run to plan.csv.`,
      );
    const name = columns.cell("factor", row).trim();
    if (!names.includes(name)) {
      const near = nearestName(name, names);
      const mend = near === null ? "Mend the name." : `Did you mean ${quoted(near)}?`;
      throw storeError(
        { ...place, field: "factor" },
        `got ${quoted(name)}; expected one of ${names.join(", ")}. ${mend}`,
      );
    }
    const factor = factorNamed(spec, name);
    const reason = tidyNote(columns.cell("reason", row));
    const cell = columns.cell("value", row);
    const unit = columns.cell("unit", row);
    if (factor.kind === "quantity") {
      return {
        run,
        factor: name,
        ...typedNumber(cell, unit, factor.unit, table.dialect.decimal, { ...place, field: "value" }),
        reason,
      };
    }
    const expected = whyNotASetting(factor, cell.trim());
    if (expected !== null)
      throw storeError(
        { ...place, field: "value" },
        `got ${quoted(cell.trim())}; expected ${expected}. Mend the cell.`,
      );
    return { run, factor: name, value: cell.trim(), unit: "", reason };
  });
}
