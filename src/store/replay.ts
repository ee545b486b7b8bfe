import type { AddedRuns, AsCut, Reading, Run } from "../trial/index.ts";
import { plainDialect, type Dialect } from "./dialect.ts";
import type { Change, Entry } from "./journal-change.ts";
import { keyOf, readingOf } from "./journal-readings.ts";
import { keyText } from "./reading-key.ts";
import type { TrialFile } from "./trial-files.ts";

/** A trial as its journal tells it, and what the journal says about its files. */
export interface State {
  readonly sequence: number;
  /** The text of trial.json. */
  readonly specText: string;
  readonly runs: readonly Run[];
  readonly asCut: readonly AsCut[];
  readonly readings: readonly Reading[];
  /** Runs that were added after the plan was laid out. */
  readonly added: readonly AddedRuns[];
  readonly files: Readonly<Partial<Record<TrialFile, FileState>>>;
  /** Checksum of the trial when somebody last said that it was reviewed; empty where nobody did. */
  readonly reviewed: string;
  readonly published: { readonly checksum: string; readonly file: string } | null;
}

export interface FileState {
  /** SHA-256 of the file as it should stand. */
  readonly hash: string;
  /** How it stood at earlier times, the latest first: such a file may be old, and not edited. */
  readonly earlier: Earlier | null;
  /** True where a change is known not to have reached the file. */
  readonly behind: boolean;
  readonly dialect: Dialect;
}

export interface Earlier {
  readonly hash: string;
  readonly before: Earlier | null;
}

export function stoodSo(file: FileState, hash: string): boolean {
  for (let at = file.earlier; at !== null; at = at.before) if (at.hash === hash) return true;
  return false;
}

export const emptyState: State = Object.freeze({
  sequence: 0,
  specText: "",
  runs: [],
  asCut: [],
  readings: [],
  added: [],
  files: {},
  reviewed: "",
  published: null,
});

/** The reason that readings bear which somebody took out of readings.csv by hand. */
export const removedByHand = "removed from readings.csv by hand";

/** The state after one more entry. */
export function replayed(state: State, entry: Entry): State {
  const files = { ...state.files };
  for (const [name, hash] of Object.entries(entry.files) as [TrialFile, string][]) {
    const before = files[name];
    let earlier = before === undefined ? null : { hash: before.hash, before: before.earlier };
    const found = entry.found?.[name];
    if (found !== undefined) earlier = { hash: found, before: earlier };
    files[name] = { hash, earlier, behind: false, dialect: entry.dialects?.[name] ?? plainDialect };
  }
  if (entry.change.kind === "files-behind") {
    for (const name of entry.change.behind) {
      const file = files[name];
      if (file !== undefined) files[name] = { ...file, behind: true };
    }
  }
  const added = addedAfter(state, entry);
  return { ...state, ...changed(state, entry.change), added, sequence: entry.sequence, files };
}

/** Which runs were added later; a plan that is laid out anew or cut short by hand takes them along. */
function addedAfter(state: State, { change, at }: Entry): readonly AddedRuns[] {
  switch (change.kind) {
    case "created":
    case "adopted":
    case "laid-out":
      return [];
    case "runs-added": {
      const [first, last] = [change.runs[0], change.runs.at(-1)];
      if (first === undefined || last === undefined) return state.added;
      const readingsBefore = state.readings.length;
      return [...state.added, { from: first.run, to: last.run, at, readingsBefore, how: change.how ?? null }];
    }
    case "edited-by-hand":
      return change.runs === undefined
        ? state.added
        : state.added.filter(({ to }) => to <= (change.runs?.length ?? 0));
    default:
      return state.added;
  }
}

/** What a change changes. */
export function changed(state: State, change: Change): Partial<State> {
  switch (change.kind) {
    case "created":
    case "adopted":
      return {
        specText: change.specText,
        runs: change.runs,
        asCut: change.asCut,
        readings: change.readings.map(readingOf),
      };
    case "laid-out":
      return { runs: change.runs };
    case "runs-added":
      return { runs: [...state.runs, ...change.runs] };
    case "recorded":
      if (change.readings.length === 0) return {};
      return { readings: [...state.readings, ...change.readings.map(readingOf)] };
    case "imported":
      return {
        readings: [...state.readings, ...change.readings.map(readingOf)],
        asCut: [...state.asCut, ...change.asCut],
      };
    case "voided":
      return {
        readings: withReason(
          state.readings,
          new Set(change.readings.map((key) => keyText(keyOf(key)))),
          change.reason,
        ),
      };
    case "void-taken-back":
      return {
        readings: withReason(state.readings, new Set(change.readings.map((key) => keyText(keyOf(key)))), ""),
      };
    case "cut-otherwise":
      return { asCut: [...state.asCut, ...change.asCut] };
    case "spec-changed":
      return { specText: change.specText, runs: change.runs };
    case "edited-by-hand":
      return editedByHand(state, change);
    case "reviewed":
      return { reviewed: change.checksum };
    case "published":
      return { published: { checksum: change.checksum, file: change.file } };
    case "files-behind":
      return {};
  }
}

function withReason(
  readings: readonly Reading[],
  keys: ReadonlySet<string>,
  reason: string,
): readonly Reading[] {
  return readings.map((reading) => (keys.has(keyText(reading)) ? { ...reading, void: reason } : reading));
}

function editedByHand(state: State, change: Extract<Change, { kind: "edited-by-hand" }>): Partial<State> {
  const {
    specText = state.specText,
    runs = state.runs,
    asCut = state.asCut,
    added = [],
    changed = [],
    removed = [],
  } = change;
  const gone = new Set(removed.map((key) => keyText(keyOf(key))));
  const after = new Map(
    changed.map(([, row]) => readingOf(row)).map((reading) => [keyText(reading), reading]),
  );
  const kept = state.readings.map((reading) => after.get(keyText(reading)) ?? reading);
  return {
    specText,
    runs,
    asCut,
    readings: [...withReason(kept, gone, removedByHand), ...added.map(readingOf)],
  };
}
