import { join } from "node:path";
import { parseTrialText, type TrialSpec } from "../trial/index.ts";
import { isOpenElsewhere, writeAtomically } from "./atomic-write.ts";
import { plainDialect, sameDialect, type Dialect } from "./dialect.ts";
import { filesOfChange, type Change, type Entry } from "./journal-change.ts";
import { appendEntry, type Journal } from "./journal-file.ts";
import { renderFile } from "./render-files.ts";
import { changed, replayed, type State } from "./replay.ts";
import { sha256, type TrialFile } from "./trial-files.ts";

/** The clock; given in tests. */
export type Clock = () => Date;

/** A trial that this process holds the lock of. */
export interface Held {
  readonly folder: string;
  readonly journal: Journal | null;
  readonly state: State;
  readonly spec: TrialSpec;
  /** What the people at the trial should know: edits taken up, files that could not be written. */
  readonly notices: readonly string[];
}

export interface WriteOptions {
  readonly now: Clock;
  /** Files to write besides those that the change concerns. */
  readonly also?: readonly TrialFile[];
  /** SHA-256 of a file edited by hand, as it was found. */
  readonly found?: Readonly<Partial<Record<TrialFile, string>>>;
}

/**
 * Makes a change last: first the journal, appended and synced, and only then the files, each whole or not at all. A file
 * that another program holds open stays behind, which the journal notes; it is written at the next opportunity.
 */
export async function writeChange(
  held: Held,
  change: Change,
  { now, also = [], found }: WriteOptions,
): Promise<Held> {
  const next = { ...held.state, ...changed(held.state, change) };
  const spec = next.specText === held.state.specText ? held.spec : parseTrialText(next.specText);
  const names = [...new Set([...filesOfChange[change.kind], ...also])];
  const texts = names.map((name) => [name, renderFile(name, next, spec)] as const);
  const entry: Entry = {
    sequence: held.state.sequence + 1,
    at: now().toISOString(),
    change,
    files: Object.fromEntries(texts.map(([name, text]) => [name, sha256(text)])),
    ...(found === undefined ? {} : { found }),
    ...dialectsOf(names, next),
  };
  const journal = await appendEntry(held.folder, held.journal, entry);
  const after: Held = { ...held, journal, spec, state: replayed(held.state, entry) };
  return writeTexts(after, texts, now);
}

/** Writes files again as the state says, without a change. */
export async function rewriteFiles(held: Held, names: readonly TrialFile[], now: Clock): Promise<Held> {
  const texts = names.map((name) => [name, renderFile(name, held.state, held.spec)] as const);
  return writeTexts(held, texts, now);
}

async function writeTexts(
  held: Held,
  texts: readonly (readonly [TrialFile, string])[],
  now: Clock,
): Promise<Held> {
  const behind: TrialFile[] = [];
  for (const [name, text] of texts) {
    try {
      await writeAtomically(join(held.folder, name), text);
    } catch (cause) {
      // The change is safe in the journal; a spreadsheet that has the file open must not make it fail.
      if (!isOpenElsewhere(cause)) throw cause;
      behind.push(name);
    }
  }
  if (behind.length === 0) return held;
  const known = behind.every((name) => held.state.files[name]?.behind === true);
  const notices = [
    ...held.notices,
    `${behind.join(", ")} is open in another program: the change is safe in the journal, and the file is written when the trial is next opened.`,
  ];
  return known ? { ...held, notices } : noteBehind({ ...held, notices }, behind, now);
}

/** Notes in the journal that files are older than it, so that they are not taken for edited ones. */
export async function noteBehind<T extends Pick<Held, "folder" | "journal" | "state">>(
  held: T,
  behind: readonly TrialFile[],
  now: Clock,
): Promise<T> {
  const change: Change = { kind: "files-behind", behind: [...behind] };
  const entry: Entry = { sequence: held.state.sequence + 1, at: now().toISOString(), change, files: {} };
  const journal = await appendEntry(held.folder, held.journal, entry);
  return { ...held, journal, state: replayed(held.state, entry) };
}

function dialectsOf(
  names: readonly TrialFile[],
  state: State,
): { readonly dialects?: Partial<Record<TrialFile, Dialect>> } {
  const odd = names.flatMap((name) => {
    const dialect = state.files[name]?.dialect ?? plainDialect;
    return sameDialect(dialect, plainDialect) ? [] : [[name, dialect] as const];
  });
  return odd.length === 0 ? {} : { dialects: Object.fromEntries(odd) };
}
