import { splitCells } from "./csv-cells.ts";
import type { Dialect } from "./dialect.ts";
import { storeError } from "./error.ts";
import { decimalEvidence, numberInCell, type DecimalSign } from "./number-cell.ts";
import { choice, type Choice, type Question } from "./question.ts";

const delimiters: readonly Dialect["delimiter"][] = [",", ";", "\t"];
const called: Readonly<Record<Dialect["delimiter"], string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
};

/** So much of a file tells what parts its cells; the rest is held to it when it is read. */
const headLength = 20_000;

/** A first line such as "sep=;", which some spreadsheets write and read: the separator it names, and the text behind it. */
export function withoutSeparatorLine(text: string): {
  readonly delimiter: Dialect["delimiter"] | null;
  readonly rest: string;
} {
  const match = /^\ufeff?sep=([,;\t])\r?\n/i.exec(text);
  if (match === null) return { delimiter: null, rest: text };
  // A blank line in its place keeps the line numbers right.
  return { delimiter: match[1] as Dialect["delimiter"], rest: `\n${text.slice(match[0].length)}` };
}

/**
 * What parts the cells: the sign with which every row has as many cells as the header. Where two signs do, the one whose
 * cells read as numbers; where that does not tell either, it is asked.
 */
export function detectDelimiter(text: string, file: string): Dialect["delimiter"] {
  const head = text.length > headLength ? text.slice(0, text.lastIndexOf("\n", headLength)) : text;
  const candidates = delimiters.flatMap((delimiter) => {
    try {
      const { rows } = splitCells(head, delimiter, file);
      const width = rows[0]?.length ?? 0;
      if (width < 2) return [];
      const even = rows.every((row) => row.length === width);
      const cells = rows.slice(1).flat();
      const numbers = cells.filter((cell) => decimalOrWhole(cell)).length;
      return [{ delimiter, even, share: cells.length === 0 ? 0 : numbers / cells.length }];
    } catch {
      // A quote that does not close with this separator speaks against it; if none fits, the comma tells the trouble.
      return [];
    }
  });
  const even = candidates.filter((candidate) => candidate.even);
  const fit = (even.length > 0 ? even : candidates).sort((a, b) => b.share - a.share);
  if (fit.length === 0) return ",";
  if (fit.length === 1 || fit[0].share >= 2 * fit[1].share + 0.1) return fit[0].delimiter;
  const question: Question = {
    id: "separator",
    kind: "separator",
    text: `The cells can be parted by ${fit.map(({ delimiter }) => called[delimiter]).join(" or by ")}.`,
    line: null,
    run: null,
    field: "",
    choices: fit.map(({ delimiter }) =>
      choice(called[delimiter], `The ${called[delimiter]} parts the cells`),
    ),
  };
  throw storeError({ file }, `${question.text} Say which, or save the file with semicolons or tabs.`, {
    questions: [question],
  });
}

export function delimiterCalled(name: string): Dialect["delimiter"] | null {
  return delimiters.find((delimiter) => called[delimiter] === name) ?? null;
}

function decimalOrWhole(cell: string): boolean {
  return (
    cell.trim() !== "" && typeof (numberInCell(cell, "point") ?? numberInCell(cell, "comma")) === "number"
  );
}

interface Seen {
  readonly cell: string;
  readonly line: number;
}

/**
 * Whether the file writes 0.82 or 0,82. Cells that can mean only one thing decide for those that can mean two ("1,234");
 * where none decides, or both kinds are there, it is asked. "1.234" alone, between commas or tabs, is a decimal point.
 */
export function detectDecimal(
  rows: readonly (readonly string[])[],
  lines: readonly number[],
  delimiter: Dialect["delimiter"],
  file: string,
): DecimalSign {
  const seen: Partial<Record<ReturnType<typeof decimalEvidence>, Seen>> = {};
  rows.forEach((row, index) => {
    for (const cell of row) {
      const evidence = decimalEvidence(cell);
      seen[evidence] ??= { cell: cell.trim(), line: lines[index] };
    }
  });
  const doubtful = seen["either-comma"] ?? seen["either-point"];
  const sure: DecimalSign = seen.comma !== undefined && seen.point === undefined ? "comma" : "point";
  if (doubtful === undefined) return sure;
  const mixed = seen.comma !== undefined && seen.point !== undefined;
  if (!mixed && seen.point !== undefined) return "point";
  if (!mixed && seen.comma !== undefined && seen["either-point"] === undefined) return "comma";
  if (seen.comma === undefined && seen["either-comma"] === undefined && delimiter !== ";") return "point";
  throw askDecimal(
    seen["either-point"] !== undefined && seen.comma !== undefined ? seen["either-point"] : doubtful,
    file,
  );
}

function askDecimal({ cell, line }: Seen, file: string): Error {
  const whole = cell.replace(/[.,]/, "");
  const decimal = String(Number(cell.replace(",", ".")));
  const sign = cell.includes(",") ? "comma" : "point";
  const other = sign === "comma" ? "point" : "comma";
  const choices: readonly Choice[] = [
    choice(sign, `It is ${decimal}: the ${sign} stands before the decimals`),
    choice(other, `It is ${whole}: the ${sign} parts the thousands`),
  ];
  const text = `"${cell}" can be ${decimal} or ${whole}.`;
  const question: Question = {
    id: "decimal-sign",
    kind: "decimal-sign",
    text,
    line,
    run: null,
    field: "",
    choices,
  };
  return storeError(
    { file, line },
    `${text} Say which sign stands before the decimals, or write numbers without thousands signs.`,
    {
      questions: [question],
    },
  );
}
