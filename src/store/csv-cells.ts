import { storeError } from "./error.ts";

/** The rows of a CSV text, cell by cell as typed, with the line of the file on which each row begins. */
export interface CsvRows {
  readonly rows: readonly (readonly string[])[];
  readonly lines: readonly number[];
}

/**
 * Splits CSV text into cells (RFC 4180: quoted cells may hold separators, line breaks and doubled quotes; LF, CRLF and CR
 * end a line). Rows whose cells are all empty are left out: spreadsheets leave them behind. Arquero's reader gives
 * neither line numbers nor rows of unequal length, and both are needed for messages that can be acted upon.
 *
 * Refused: a quote that is never closed, and text behind a closing quote.
 */
export function splitCells(text: string, delimiter: string, file: string): CsvRows {
  const source = text.startsWith("\ufeff") ? text.slice(1) : text;
  const all = source.includes('"') ? splitQuoted(source, delimiter, file) : splitPlain(source, delimiter);
  const kept = all.rows.flatMap((row, index) => (row.every((cell) => cell.trim() === "") ? [] : [index]));
  if (kept.length === all.rows.length) return all;
  return { rows: kept.map((index) => all.rows[index]), lines: kept.map((index) => all.lines[index]) };
}

function splitPlain(text: string, delimiter: string): CsvRows {
  const rows = text.split(/\r\n|\n|\r/).map((line) => line.split(delimiter));
  return { rows, lines: rows.map((_, index) => index + 1) };
}

function splitQuoted(text: string, delimiter: string, file: string): CsvRows {
  const rows: string[][] = [];
  const lines: number[] = [];
  let row: string[] = [];
  let line = 1;
  let rowLine = 1;
  let place = 0;
  const endRow = (): void => {
    rows.push(row);
    lines.push(rowLine);
    row = [];
    rowLine = line;
  };
  for (;;) {
    let cell: string;
    if (text[place] === '"') {
      const closed = quotedCell(text, place);
      if (closed === null) {
        throw storeError(
          { file, line: rowLine },
          "a quote is opened and never closed. Close it, or double a quote that is part of the text.",
        );
      }
      cell = closed.cell;
      line += closed.cell.split(/\r\n|\n|\r/).length - 1;
      place = closed.end;
      if (place < text.length && !isEnd(text[place], delimiter)) {
        const mend = `text stands behind a closing quote (${JSON.stringify(text.slice(place, place + 12))}). Double a quote that is part of the text.`;
        throw storeError({ file, line }, mend);
      }
    } else {
      let end = place;
      while (end < text.length && !isEnd(text[end], delimiter)) end++;
      cell = text.slice(place, end);
      place = end;
    }
    row.push(cell);
    if (place >= text.length) break;
    const sign = text[place];
    place += sign === "\r" && text[place + 1] === "\n" ? 2 : 1;
    if (sign === delimiter) continue;
    line++;
    endRow();
  }
  endRow();
  return { rows, lines };
}

function isEnd(sign: string, delimiter: string): boolean {
  return sign === delimiter || sign === "\n" || sign === "\r";
}

function quotedCell(text: string, open: number): { readonly cell: string; readonly end: number } | null {
  let from = open + 1;
  for (;;) {
    const quote = text.indexOf('"', from);
    if (quote < 0) return null;
    if (text[quote + 1] !== '"')
      return { cell: text.slice(open + 1, quote).replaceAll('""', '"'), end: quote + 1 };
    from = quote + 2;
  }
}
