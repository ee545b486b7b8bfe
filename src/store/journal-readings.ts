import type { Reading } from "../trial/index.ts";
import { storeError } from "./error.ts";
import type { ReadingKey } from "./reading-key.ts";

/**
 * Readings as the journal keeps them: an import of thousands is one line, so each is a short row, empty cells at its end
 * left out: run, response, value, unit, spot, repeat, taken, note, void, and the typed text where it is kept.
 */
export type ReadingRow = readonly (string | number)[];
export type KeyRow = readonly [run: number, response: string, spot: number, repeat: number];

export function rowOf(reading: Reading): ReadingRow {
  const { run, response, value, unit, spot, repeat, taken, note, text = "" } = reading;
  const row = [run, response, value, unit, spot, repeat, taken, note, reading.void, text];
  let length = row.length;
  while (row[length - 1] === "") length--;
  return row.slice(0, length);
}

/** The reading in a row of the journal; a row that is none is refused, for a journal may come from elsewhere. */
export function readingOf(row: unknown): Reading {
  if (Array.isArray(row)) {
    const cells: readonly unknown[] = row;
    const [run, response, value, unit, spot, repeat, taken = "", note = "", reason = "", text = ""] = cells;
    if (
      isCount(run) &&
      typeof response === "string" &&
      typeof value === "number" &&
      typeof unit === "string" &&
      isCount(spot) &&
      isCount(repeat) &&
      typeof taken === "string" &&
      typeof note === "string" &&
      typeof reason === "string" &&
      typeof text === "string"
    ) {
      const reading = { run, response, value, unit, spot, repeat, taken, note, void: reason };
      return text === "" ? reading : { ...reading, text };
    }
  }
  throw storeError(
    { file: "journal.ndjson" },
    `got the reading ${JSON.stringify(row)}; expected run, response, value, unit, spot and repeat.`,
  );
}

export function keyRow({ run, response, spot, repeat }: ReadingKey): KeyRow {
  return [run, response, spot, repeat];
}

export function keyOf([run, response, spot, repeat]: KeyRow): ReadingKey {
  return { run, response, spot, repeat };
}

function isCount(value: unknown): value is number {
  return typeof value === "number" && Number.isSafeInteger(value) && value >= 1;
}
