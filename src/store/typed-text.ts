import type { Dialect } from "./dialect.ts";
import { numberInOwnCell } from "./number-cell.ts";

/**
 * How a number is to stand in a file: with the digits that were typed and the file's decimal sign, where that reads as the
 * same number there; else in its fewest digits.
 */
export function typedCell(
  value: number,
  text: string | undefined,
  { decimal }: Dialect,
): number | { readonly typed: string } {
  if (text === undefined) return value;
  const [own, other] = decimal === "point" ? [".", ","] : [",", "."];
  const typed = text.includes(own) ? text : text.replace(other, own);
  return numberInOwnCell(typed, decimal) === value ? { typed } : value;
}

/** Notes as they are kept: one kind of line break, no spaces around. */
export function tidyNote(note: string): string {
  return note.replace(/\r\n?/g, "\n").trim();
}
