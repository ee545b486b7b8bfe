import { table, type ColumnTable } from "arquero";
import { settingsAsCut, type Trial } from "../trial/index.ts";
import { isUnit } from "../units/index.ts";
import { inUnitOf } from "./number-field.ts";

/**
 * The readings as an Arquero table, one row a reading in the order in which they were taken: run, order (place in cutting
 * order), block, role, each factor as cut (in the factor's unit), response, value and unit (the response's own), spot,
 * repeat, taken, note, void (true where the reading is not to be used) and reason.
 *
 * @example trial.table().filter((row) => !row.void && row.response === "Ra").groupby("feed").rollup({ mean: op.mean("value") })
 */
export function readingTable(trial: Pick<Trial, "spec" | "runs" | "asCut" | "readings">): ColumnTable {
  const { spec, runs, readings } = trial;
  const cut = new Map(
    runs.map((run, index) => [run.run, { ...run, order: index + 1, settings: settingsAsCut(trial, run) }]),
  );
  const units = new Map(spec.responses.map(({ name, unit }) => [name, unit]));
  const rows = readings.map((reading) => {
    const run = cut.get(reading.run);
    const unit = units.get(reading.response);
    const value =
      unit !== undefined && isUnit(reading.unit)
        ? inUnitOf(reading.value, reading.unit, unit)
        : reading.value;
    return { ...reading, value, unit: unit ?? reading.unit, of: run };
  });
  return table([
    ["run", rows.map((row) => row.run)],
    ["order", rows.map((row) => row.of?.order ?? null)],
    ["block", rows.map((row) => row.of?.block ?? null)],
    ["role", rows.map((row) => row.of?.role ?? null)],
    ...spec.factors.map(
      ({ name }) => [name, rows.map((row) => row.of?.settings[name] ?? null)] as [string, unknown[]],
    ),
    ["response", rows.map((row) => row.response)],
    ["value", rows.map((row) => row.value)],
    ["unit", rows.map((row) => row.unit)],
    ["spot", rows.map((row) => row.spot)],
    ["repeat", rows.map((row) => row.repeat)],
    ["taken", rows.map((row) => row.taken)],
    ["note", rows.map((row) => row.note)],
    ["void", rows.map((row) => row.void !== "")],
    ["reason", rows.map((row) => row.void)],
  ]);
}
