import { messageOf, storeError } from "./error.ts";
import { entrySchema, type Entry } from "./journal-change.ts";
import { sha256 } from "./trial-files.ts";

const shape = /^\{"sequence":(\d+),"checksum":"([0-9a-f]{16})",(.*\})$/s;

/** One line of journal.ndjson: number, checksum over number and contents, contents. */
export function encodeEntry({ sequence, ...contents }: Entry): string {
  const text = JSON.stringify(contents);
  return `{"sequence":${sequence},"checksum":"${checksumOf(sequence, text)}",${text.slice(1)}\n`;
}

/** The entry of a line; null where the line is torn or was tampered with. */
export function decodeEntry(line: string): Entry | null {
  const [, number = "", checksum = "", rest = ""] = shape.exec(line) ?? [];
  const sequence = Number(number);
  const text = `{${rest}`;
  if (rest === "" || checksumOf(sequence, text) !== checksum) return null;
  const parsed = entrySchema.safeParse(JSON.parse(text));
  if (parsed.success) return { sequence, ...parsed.data };
  const place = { file: "journal.ndjson", line: sequence };
  const mend = "A later version of Trycut may have written it: open the trial with that version.";
  throw storeError(
    place,
    `the line is whole, but says what this version does not know (${messageOf(parsed.error)}). ${mend}`,
  );
}

function checksumOf(sequence: number, text: string): string {
  return sha256(`${sequence} ${text}`).slice(0, 16);
}
