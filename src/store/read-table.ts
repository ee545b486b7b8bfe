import { splitCells } from "./csv-cells.ts";
import { decodeText } from "./decode.ts";
import type { Dialect } from "./dialect.ts";
import { quoted, storeError } from "./error.ts";
import { restored } from "./formula-cells.ts";
import { parseHeader, type Header } from "./header.ts";
import { numberInCell, type DecimalSign } from "./number-cell.ts";
import { detectDecimal, detectDelimiter, withoutSeparatorLine } from "./separators.ts";

/** A column as it was read. */
export interface TableColumn extends Header {
  /** Every cell as typed, text that had been neutralised restored. */
  readonly texts: readonly string[];
  /** Every cell as a number, null for an empty one; null as a whole where some cell is no number. */
  readonly numbers: readonly (number | null)[] | null;
}

/** A CSV file as it was read. */
export interface DataTable {
  readonly file: string;
  readonly columns: readonly TableColumn[];
  readonly rows: number;
  /** The line of the file on which each row begins. */
  readonly lines: readonly number[];
  readonly dialect: Dialect;
}

export interface ReadTableOptions {
  /** Stands in the messages. */
  readonly file?: string;
  /** What parts the cells; found out where it is left out. */
  readonly delimiter?: Dialect["delimiter"];
  /** Which sign stands before the decimals; found out where it is left out. */
  readonly decimal?: DecimalSign;
}

/**
 * A table from CSV text, as a file or pasted from a spreadsheet: separated by commas, semicolons or tabs, numbers with
 * decimal point or comma, the unit in the header in brackets.
 *
 * Returned: columns with name, unit as typed, texts as typed, and numbers. Refused with a {@link StoreError} that names
 * file and line: rows of unequal length, headers missing or twice, quotes that don't close; and, with a question, what
 * can be read in two ways: "1,234" where no other cell tells which sign stands before the decimals.
 *
 * @example readTable("run;Ra [µm]\n1;0,82\n").columns[1].numbers // [0.82]
 */
export function readTable(source: string | Uint8Array, options: ReadTableOptions = {}): DataTable {
  const { file = "the table" } = options;
  const { text, bom } =
    typeof source === "string"
      ? { text: source, bom: source.startsWith("\ufeff") }
      : decodeText(source, file);
  const { delimiter: named, rest } = withoutSeparatorLine(text);
  const delimiter = options.delimiter ?? named ?? detectDelimiter(rest, file);
  const { rows, lines } = splitCells(rest, delimiter, file);
  if (rows.length === 0) {
    throw storeError({ file }, "the file is empty; expected a line of headers and a line for each row.");
  }
  const [head, ...body] = rows;
  const headers = head.map((cell) => parseHeader(restored(cell)));
  const width = usedWidth(headers, body);
  checkHeaders(headers.slice(0, width), file, lines[0]);
  checkWidths(body, lines, width, delimiter, file);
  const decimal = options.decimal ?? detectDecimal(body, lines.slice(1), delimiter, file);
  const columns = headers.slice(0, width).map((header, index) => {
    const texts = body.map((row) => restored(row[index] ?? ""));
    return { ...header, texts, numbers: numbersOf(texts, decimal) };
  });
  const newline = text.includes("\r\n") ? "\r\n" : "\n";
  return {
    file,
    columns,
    rows: body.length,
    lines: lines.slice(1),
    dialect: { delimiter, decimal, bom, newline },
  };
}

/** Columns at the right without a header and without a cell are what a spreadsheet leaves behind. */
function usedWidth(headers: readonly Header[], body: readonly (readonly string[])[]): number {
  let width = headers.length;
  const isBlank = (column: number): boolean => body.every((row) => (row[column] ?? "").trim() === "");
  while (width > 0 && headers[width - 1].header === "" && isBlank(width - 1)) width--;
  return width;
}

function checkHeaders(headers: readonly Header[], file: string, line: number): void {
  headers.forEach(({ header, name }, index) => {
    if (header === "")
      throw storeError(
        { file, line },
        `column ${index + 1} has no header. Name it, with its unit in brackets.`,
      );
    const first = headers.findIndex((other) => other.name.toLowerCase() === name.toLowerCase());
    if (first < index) {
      throw storeError(
        { file, line },
        `columns ${first + 1} and ${index + 1} are both called ${quoted(name)}. Rename one of them.`,
      );
    }
  });
}

function checkWidths(
  body: readonly (readonly string[])[],
  lines: readonly number[],
  width: number,
  delimiter: Dialect["delimiter"],
  file: string,
): void {
  body.forEach((row, index) => {
    const extra = row.slice(width).some((cell) => cell.trim() !== "");
    if (row.length >= width && !extra) return;
    const hint =
      extra && delimiter === ","
        ? "A decimal comma between commas needs quotes: save the file with semicolons, or put such numbers in quotes."
        : "Fill the missing cells, or leave them empty between separators.";
    throw storeError(
      { file, line: lines[index + 1] },
      `the row has ${row.length} cells and the header has ${width}. ${hint}`,
    );
  });
}

function numbersOf(texts: readonly string[], decimal: DecimalSign): readonly (number | null)[] | null {
  const numbers: (number | null)[] = [];
  for (const text of texts) {
    if (text.trim() === "") {
      numbers.push(null);
      continue;
    }
    const value = numberInCell(text, decimal);
    if (typeof value !== "number") return null;
    numbers.push(value);
  }
  return numbers;
}
