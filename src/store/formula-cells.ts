// The signs with which a cell begins that spreadsheets run as a formula or command, their full-width twins, and white
// space before them that some spreadsheets drop (OWASP, "CSV Injection").
const runs = /^'*[\s\p{Cc}]*[=+\-@＝＋－＠]/u;
const negativeNumber = /^-\d+(?:[.,]\d+)?$/;

/**
 * Text for a cell, with an apostrophe before what a spreadsheet would run as a formula.
 *
 * @example neutralised("=1+1") // "'=1+1"
 */
export function neutralised(text: string): string {
  return runs.test(text) && !negativeNumber.test(text) ? `'${text}` : text;
}

/** The text that {@link neutralised} was given. */
export function restored(cell: string): string {
  return cell.startsWith("'") && runs.test(cell.slice(1)) ? cell.slice(1) : cell;
}
