import { parseTrialText, type AsCut, type Reading, type Run, type TrialSpec } from "../trial/index.ts";
import { parseAsCut } from "./as-cut-file.ts";
import { runsInUnits } from "./check-trial.ts";
import { decodeText } from "./decode.ts";
import { plainDialect, type Dialect } from "./dialect.ts";
import { StoreError } from "./error.ts";
import type { Change } from "./journal-change.ts";
import { keyRow, rowOf } from "./journal-readings.ts";
import { parsePlan } from "./plan-file.ts";
import { keyText } from "./reading-key.ts";
import { parseReadings } from "./readings-file.ts";
import { readTable, type DataTable } from "./read-table.ts";
import { removedByHand, type State } from "./replay.ts";
import { detectDelimiter } from "./separators.ts";
import type { TrialFile } from "./trial-files.ts";

export type HandEdit = Extract<Change, { kind: "edited-by-hand" }>;

/** What a file that was found otherwise than it was written says: the change, null where it says the same in other words. */
export interface ReadEdit {
  readonly edit: HandEdit | null;
  readonly dialect: Dialect;
}

/**
 * Works out what somebody changed in a file by hand, run by run or reading by reading. A reading that is missing becomes
 * a voided one, unless `keepMissing` says that the file may be older than the journal. Refused, with line and field, as
 * by the readers of the files.
 */
export function readHandEdit(
  file: TrialFile,
  bytes: Uint8Array,
  state: State,
  spec: TrialSpec,
  { keepMissing = false } = {},
): ReadEdit {
  if (file === "trial.json")
    return { edit: specEdit(decodeText(bytes, file).text, state), dialect: plainDialect };
  const table = readOwnTable(file, bytes, state.files[file]?.dialect ?? plainDialect);
  const { dialect } = table;
  if (file === "plan.csv") return { edit: planEdit(parsePlan(table, spec), state), dialect };
  if (file === "as-cut.csv") return { edit: asCutEdit(parseAsCut(table, spec, state.runs), state), dialect };
  return { edit: readingsEdit(parseReadings(table, spec, state.runs), state, keepMissing), dialect };
}

/** Reads one of the trial's CSV files; where it does not tell its decimal sign, it is taken to be written as before. */
export function readOwnTable(file: TrialFile, bytes: Uint8Array, written: Dialect): DataTable {
  const { encoding, bom } = decodeText(bytes, file);
  const read = (): DataTable => {
    try {
      return readTable(bytes, { file });
    } catch (cause) {
      const known = detectDelimiter(decodeText(bytes, file).text, file) === written.delimiter;
      const unclear =
        cause instanceof StoreError && cause.questions.some((question) => question.kind === "decimal-sign");
      if (!known || !unclear) throw cause;
      return readTable(bytes, { file, decimal: written.decimal });
    }
  };
  const table = read();
  // Other encodings are not written; with the mark, the spreadsheet that used one reads this one rightly.
  return { ...table, dialect: { ...table.dialect, bom: bom || encoding !== "utf-8" } };
}

function specEdit(text: string, state: State): HandEdit | null {
  const spec = parseTrialText(text);
  const before = parseTrialText(state.specText);
  if (JSON.stringify(spec) === JSON.stringify(before)) return null;
  const runs = runsInUnits(state.runs, before.factors, spec.factors);
  const parts = Object.keys({ ...before, ...spec }) as (keyof TrialSpec)[];
  const named = parts.filter((part) => JSON.stringify(before[part]) !== JSON.stringify(spec[part]));
  return {
    kind: "edited-by-hand",
    file: "trial.json",
    summary: `changed: ${named.join(", ")}`,
    specText: text,
    runs: [...runs],
  };
}

function planEdit(runs: readonly Run[], state: State): HandEdit | null {
  const before = new Map(state.runs.map((run) => [run.run, canonical(run)]));
  const changed = runs.filter((run) => before.has(run.run) && before.get(run.run) !== canonical(run)).length;
  const added = runs.filter((run) => !before.has(run.run)).length;
  const removed = state.runs.length - (runs.length - added);
  if (changed + added + removed === 0) return null;
  return {
    kind: "edited-by-hand",
    file: "plan.csv",
    summary: counted("run", { changed, added, removed }),
    runs: [...runs],
  };
}

function asCutEdit(asCut: readonly AsCut[], state: State): HandEdit | null {
  const before = state.asCut.map(canonical);
  const after = asCut.map(canonical);
  if (before.join("\n") === after.join("\n")) return null;
  const added = after.filter((note) => !before.includes(note)).length;
  const removed = before.filter((note) => !after.includes(note)).length;
  return {
    kind: "edited-by-hand",
    file: "as-cut.csv",
    summary: counted("note", { changed: 0, added, removed }),
    asCut: [...asCut],
  };
}

function readingsEdit(readings: readonly Reading[], state: State, keepMissing: boolean): HandEdit | null {
  const before = new Map(state.readings.map((reading) => [keyText(reading), reading]));
  const found = new Set(readings.map(keyText));
  const added = readings.filter((reading) => !before.has(keyText(reading)));
  const changed = readings.flatMap((reading): [Reading, Reading][] => {
    const old = before.get(keyText(reading));
    return old === undefined || canonical(old) === canonical(reading) ? [] : [[old, reading]];
  });
  const missing = keepMissing ? [] : state.readings.filter((reading) => !found.has(keyText(reading)));
  const removed = missing.filter((reading) => reading.void === "");
  if (added.length + changed.length + removed.length === 0) return null;
  const counts = { changed: changed.length, added: added.length, removed: removed.length };
  return {
    kind: "edited-by-hand",
    file: "readings.csv",
    summary: counted("reading", counts) + (removed.length > 0 ? ` (kept as void: ${removedByHand})` : ""),
    added: added.map(rowOf),
    changed: changed.map(([old, reading]) => [rowOf(old), rowOf(reading)]),
    removed: removed.map((reading) => [...keyRow(reading)]),
  };
}

/** "2 readings changed, 1 added". */
function counted(
  what: string,
  { changed, added, removed }: Readonly<Record<"changed" | "added" | "removed", number>>,
): string {
  const parts = [
    [changed, "changed"],
    [added, "added"],
    [removed, "removed"],
  ] as const;
  const [first, ...rest] = parts.filter(([count]) => count > 0);
  const plural = first[0] === 1 ? what : `${what}s`;
  return [`${first[0]} ${plural} ${first[1]}`, ...rest.map(([count, verb]) => `${count} ${verb}`)].join(", ");
}

/** Equal exactly where two records say the same, whatever the order of their keys. */
function canonical(record: object): string {
  return JSON.stringify(record, (_, value: unknown) =>
    typeof value === "object" && value !== null && !Array.isArray(value)
      ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
      : value,
  );
}
