import { appendEntry } from "./journal-file.ts";
import type { Change, Entry } from "./journal-change.ts";
import { rowOf } from "./journal-readings.ts";
import { replayed } from "./replay.ts";
import { trialFiles } from "./trial-files.ts";
import type { Clock, Held } from "./write-change.ts";

/** Begins the journal of a folder that has none, with its files as they stand. Does nothing where there is one. */
export async function adopted(held: Held, now: Clock): Promise<Held> {
  if (held.journal !== null) return held;
  const { specText, runs, asCut, readings, files } = held.state;
  const change: Change = {
    kind: "adopted",
    specText,
    runs: [...runs],
    asCut: [...asCut],
    readings: readings.map(rowOf),
  };
  const known = trialFiles.flatMap((name) => {
    const file = files[name];
    return file === undefined ? [] : [[name, file] as const];
  });
  const entry: Entry = {
    sequence: 1,
    at: now().toISOString(),
    change,
    files: Object.fromEntries(known.map(([name, { hash }]) => [name, hash])),
    dialects: Object.fromEntries(known.map(([name, { dialect }]) => [name, dialect])),
  };
  const journal = await appendEntry(held.folder, null, entry);
  return { ...held, journal, state: replayed({ ...held.state, files: {} }, entry) };
}
