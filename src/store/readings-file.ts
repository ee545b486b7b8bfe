import { nearestName, type Reading, type Run, type TrialSpec } from "../trial/index.ts";
import { namedColumns, wholeNumber } from "./columns.ts";
import { plainDialect, type Dialect } from "./dialect.ts";
import { quoted, storeError, type Place } from "./error.ts";
import { typedNumber } from "./number-field.ts";
import { keyText, keyWords, repeatCounter } from "./reading-key.ts";
import type { DataTable } from "./read-table.ts";
import { tidyNote, typedCell } from "./typed-text.ts";
import { writeCsv } from "./write-csv.ts";

export const readingsFile = "readings.csv";

/** The text of readings.csv: one row a reading, voided ones with their reason. */
export function formatReadings(readings: readonly Reading[], dialect: Dialect = plainDialect): string {
  return writeCsv(
    [
      { header: "run", cells: readings.map((reading) => reading.run) },
      { header: "response", cells: readings.map((reading) => reading.response) },
      { header: "value", cells: readings.map(({ value, text }) => typedCell(value, text, dialect)) },
      { header: "unit", cells: readings.map((reading) => reading.unit) },
      { header: "spot", cells: readings.map((reading) => reading.spot) },
      { header: "repeat", cells: readings.map((reading) => reading.repeat) },
      { header: "taken", cells: readings.map((reading) => reading.taken) },
      { header: "note", cells: readings.map((reading) => reading.note) },
      { header: "void", cells: readings.map((reading) => reading.void) },
    ],
    dialect,
  );
}

/**
 * The readings of readings.csv. An empty spot is spot 1; an empty repeat counts on from the readings of that spot.
 * Refused, with line, run and field: a run that is not in the plan, an unknown response, a value without number or unit,
 * a unit of another dimension, a time that is none, the same run, response, spot and repeat twice.
 */
export function parseReadings(
  table: DataTable,
  spec: Pick<TrialSpec, "responses">,
  runs: readonly Run[],
): readonly Reading[] {
  const columns = namedColumns(
    table,
    ["run", "response", "value"],
    ["unit", "spot", "repeat", "taken", "note", "void"],
  );
  const known = new Set(runs.map((run) => run.run));
  const units = new Map(spec.responses.map((response) => [response.name, response.unit]));
  const rows = table.lines.map((line, row) => {
    const run = wholeNumber(columns.cell("run", row), { file: table.file, line, field: "run" });
    const place = { file: table.file, line, run };
    if (!known.has(run))
      throw storeError(
        { ...place, field: "run" },
        `the plan has no run ${run}. Mend the number, or add the run to plan.csv.`,
      );
    const response = columns.cell("response", row).trim();
    const like = units.get(response);
    if (like === undefined) throw unknownResponse(response, [...units.keys()], place);
    const typed = typedNumber(
      columns.cell("value", row),
      columns.cell("unit", row),
      like,
      table.dialect.decimal,
      { ...place, field: "value" },
    );
    const repeat =
      columns.cell("repeat", row).trim() === ""
        ? 0
        : wholeNumber(columns.cell("repeat", row), { ...place, field: "repeat" });
    return {
      run,
      response,
      ...typed,
      spot: wholeNumber(columns.cell("spot", row), { ...place, field: "spot" }, 1),
      repeat,
      taken: timeInCell(columns.cell("taken", row), { ...place, field: "taken" }),
      note: tidyNote(columns.cell("note", row)),
      void: tidyNote(columns.cell("void", row)),
    };
  });
  const next = repeatCounter(rows.filter((reading) => reading.repeat > 0));
  const readings = rows.map((reading) =>
    reading.repeat > 0 ? reading : { ...reading, repeat: next(reading) },
  );
  const seen = new Map<string, number>();
  readings.forEach((reading, index) => {
    const first = seen.get(keyText(reading));
    if (first !== undefined) {
      const mend = "Give another repeat number for a further reading there, or leave the cell empty.";
      throw storeError(
        { file: table.file, line: table.lines[index], run: reading.run, field: "repeat" },
        `${keyWords(reading)} stands on line ${first} already. ${mend}`,
      );
    }
    seen.set(keyText(reading), table.lines[index]);
  });
  return readings;
}

export function unknownResponse(given: string, known: readonly string[], place: Place): Error {
  const near = nearestName(given, known);
  const mend =
    near === null ? "Mend the name, or add the response to trial.json." : `Did you mean ${quoted(near)}?`;
  return storeError(
    { ...place, field: "response" },
    `got ${quoted(given)}; expected one of ${known.join(", ")}. ${mend}`,
  );
}

/** An ISO 8601 time, or nothing. */
export function timeInCell(cell: string, place: Place): string {
  const text = cell.trim();
  if (
    text === "" ||
    (/^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?)?$/.test(text) &&
      !Number.isNaN(Date.parse(text)))
  ) {
    return text;
  }
  throw storeError(
    place,
    `got ${quoted(text)}; expected a time such as 2026-11-25T14:05:00Z, or nothing. Mend the cell.`,
  );
}
