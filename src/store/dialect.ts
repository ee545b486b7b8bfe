/** How a CSV file is written. Kept, so that a file comes back to the spreadsheet that saved it as that spreadsheet wrote it. */
export interface Dialect {
  readonly delimiter: "," | ";" | "\t";
  readonly decimal: "point" | "comma";
  readonly bom: boolean;
  readonly newline: "\n" | "\r\n";
}

/** How Trycut writes a file of its own. */
export const plainDialect: Dialect = Object.freeze({
  delimiter: ",",
  decimal: "point",
  bom: false,
  newline: "\n",
});

export function sameDialect(a: Dialect, b: Dialect): boolean {
  return a.delimiter === b.delimiter && a.decimal === b.decimal && a.bom === b.bom && a.newline === b.newline;
}
