import { open, readFile, type FileHandle } from "node:fs/promises";
import { join } from "node:path";
import { syncFolder } from "./atomic-write.ts";
import { messageOf, storeError } from "./error.ts";
import type { Entry } from "./journal-change.ts";
import { decodeEntry, encodeEntry } from "./journal-line.ts";

export const journalFile = "journal.ndjson";

/** The journal as it stands on disk. */
export interface Journal {
  readonly entries: readonly Entry[];
  /** How many bytes hold whole lines; what follows was torn by a crash, was never acknowledged, and is overwritten. */
  readonly wholeBytes: number;
  readonly endsInNewline: boolean;
}

/**
 * Reads a trial's journal; null where the folder has none. A torn last line is left out. Refused: damage anywhere else,
 * for then it is not known what is missing.
 */
export async function readJournalFile(folder: string): Promise<Journal | null> {
  const bytes = await readFile(join(folder, journalFile)).catch((cause: unknown) => {
    if (isMissing(cause)) return null;
    throw cause;
  });
  if (bytes === null) return null;
  const entries: Entry[] = [];
  let start = 0;
  while (start < bytes.length) {
    const newline = bytes.indexOf(10, start);
    const end = newline < 0 ? bytes.length : newline;
    const text = bytes.toString("utf8", start, end).replace(/\r$/, "");
    const entry = decodeEntry(text);
    if (entry === null) {
      if (newline < 0 || bytes.subarray(end).every((byte) => byte === 10 || byte === 13 || byte === 0)) break;
      throw damaged(entries.length + 1, "the line does not match its checksum");
    }
    if (entry.sequence !== entries.length + 1) {
      throw damaged(
        entries.length + 1,
        `the line has number ${entry.sequence}, expected ${entries.length + 1}`,
      );
    }
    entries.push(entry);
    start = end + 1;
  }
  const wholeBytes = Math.min(start, bytes.length);
  return { entries, wholeBytes, endsInNewline: wholeBytes === 0 || bytes[wholeBytes - 1] === 10 };
}

function damaged(line: number, what: string): Error {
  const mend =
    "Nothing was changed. Bring the file back from a backup or from git; or rename it, and the trial is taken as its other files stand.";
  return storeError({ file: journalFile, line }, `${what}. ${mend}`);
}

/** Appends one entry behind the whole lines and syncs it to the disk; when this returns, the change is safe. */
export async function appendEntry(folder: string, journal: Journal | null, entry: Entry): Promise<Journal> {
  const path = join(folder, journalFile);
  const file = await open(path, journal === null ? "wx" : "r+");
  const { entries, wholeBytes, endsInNewline } = journal ?? {
    entries: [],
    wholeBytes: 0,
    endsInNewline: true,
  };
  try {
    const bytes = Buffer.from((endsInNewline ? "" : "\n") + encodeEntry(entry), "utf8");
    await file.truncate(wholeBytes);
    await writeAll(file, bytes, wholeBytes);
    await file.sync();
    return { entries: [...entries, entry], wholeBytes: wholeBytes + bytes.length, endsInNewline: true };
  } catch (cause) {
    await file.truncate(wholeBytes).catch(() => undefined);
    throw storeError(
      { file: journalFile },
      `the change could not be written (${messageOf(cause)}), so nothing was changed. Check the disk.`,
      { cause },
    );
  } finally {
    await file.close();
    if (journal === null) await syncFolder(folder);
  }
}

async function writeAll(file: FileHandle, bytes: Buffer, position: number): Promise<void> {
  let done = 0;
  while (done < bytes.length) {
    const { bytesWritten } = await file.write(bytes, done, bytes.length - done, position + done);
    done += bytesWritten;
  }
}

export function isMissing(cause: unknown): boolean {
  return cause instanceof Error && "code" in cause && cause.code === "ENOENT";
}
