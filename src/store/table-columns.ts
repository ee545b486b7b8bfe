import type { UnitName } from "../units/index.ts";
import { quoted } from "./error.ts";
import { sameName, type Mapping } from "./import-columns.ts";
import { columnUnit, type Findings } from "./import-table.ts";
import { isReplicate, usualWord } from "./import-words.ts";
import { choice, type Question } from "./question.ts";
import type { DataTable, TableColumn } from "./read-table.ts";

/** What a column is in a table that is to become a trial. */
export const tableWords = [
  "quantity",
  "category",
  "response",
  "held",
  "run",
  "block",
  "spot",
  "repeat",
  "note",
  "taken",
  "leave out",
] as const;

export type TableWord = (typeof tableWords)[number];

/** A column of such a table; `unit` is null where it has none. */
export interface RoledColumn {
  readonly column: TableColumn;
  readonly role: TableWord | null;
  readonly unit: UnitName | null;
  readonly why: string;
}

/** Levels of a quantity that are listed, and the most that a column of settings is likely to have. */
export const mostLevels = 12;

/**
 * What each column is: by the mapping, by a usual header, by what stands in it. Text is a category; a roughness parameter
 * is a response; numbers that come again are settings; all else is asked about.
 */
export function tableColumns(table: DataTable, mapping: Mapping, found: Findings): readonly RoledColumn[] {
  for (const [name, role] of Object.entries(mapping)) {
    if (!table.columns.some((column) => sameName(column.name, name))) {
      found.problem(
        `the mapping names the column ${quoted(name)}, which the file does not have; it has ${table.columns.map((column) => column.name).join(", ")}.`,
      );
    }
    if (!(tableWords as readonly string[]).includes(role)) {
      found.problem(
        `the mapping makes ${quoted(name)} a ${quoted(role)}; expected one of ${tableWords.join(", ")}.`,
      );
    }
  }
  return table.columns.map((column): RoledColumn => {
    const [role, why] = roleOf(column, table, mapping, found);
    const withUnit =
      role === "quantity" || role === "response" || (role === "held" && column.numbers !== null);
    return { column, role, why, unit: withUnit ? unitOf(column, found) : null };
  });
}

function roleOf(
  column: TableColumn,
  table: DataTable,
  mapping: Mapping,
  found: Findings,
): readonly [TableWord | null, string] {
  const mapped = Object.entries(mapping).find(([name]) => sameName(name, column.name))?.[1];
  if (mapped !== undefined) return [tableWords.find((word) => word === mapped) ?? null, "by the mapping"];
  const filled = column.texts.map((text) => text.trim()).filter((text) => text !== "");
  if (filled.length === 0) return ["leave out", "empty"];
  if (/^R[aqzptv]\d?$|^R(?:max|sk|ku|sm|mr)$/i.test(column.name))
    return ["response", "a roughness parameter"];
  const usual = usualWord(column.name);
  const word = tableWords.find((known) => known === usual);
  if (word !== undefined && word !== "repeat") return [word, "a usual header"];
  const different = new Set(filled).size;
  if (isReplicate(column.name) || word === "repeat") return ["repeat", "a usual header"];
  if (different === 1 && table.rows > 1) return ["held", "the same in every row"];
  const comesAgain = different <= mostLevels && different * 2 <= filled.length;
  if (comesAgain && column.numbers === null) return ["category", "words that come again"];
  if (comesAgain && columnUnit(column) !== null) return ["quantity", "numbers that come again"];
  const answer = found.ask(askRole(column));
  return [tableWords.find((known) => known === answer) ?? null, answer === null ? "asked" : "answered"];
}

function askRole({ header, name, texts, numbers }: TableColumn): Question {
  const roles = tableWords.filter((word) => numbers !== null || (word !== "quantity" && word !== "response"));
  return {
    id: `column ${name}`,
    kind: "column",
    text: `What is the column ${quoted(header)} (${texts.slice(0, 3).map(quoted).join(", ")}, …): a factor, a response, or something else?`,
    line: 1,
    run: null,
    field: name,
    choices: roles.map((word) => choice(word, described[word])),
  };
}

const described: Readonly<Record<TableWord, string>> = {
  quantity: "A factor that is measured",
  category: "A factor with named levels",
  response: "A response: what was read",
  held: "Held: it stayed still",
  run: "The number of the run",
  block: "The block",
  spot: "Where on the surface",
  repeat: "Which reading at the spot",
  note: "A note",
  taken: "When it was read",
  "leave out": "Leave it out",
};

/** The unit of a column of numbers; a number without a known one is asked about. */
function unitOf(column: TableColumn, found: Findings): UnitName | null {
  const unit = columnUnit(column);
  if (unit !== null) return unit;
  const trouble =
    column.unit === "" ? "has no unit" : `has the unit ${quoted(column.unit)}, which is not known`;
  const answer = found.ask({
    id: `unit ${column.name}`,
    kind: "unit",
    text: `The column ${quoted(column.header)} ${trouble}. Is it a plain number? If not, write a known unit into the header in brackets.`,
    line: 1,
    run: null,
    field: column.name,
    choices: [choice("1", "A plain number")],
  });
  return answer === null ? null : "1";
}
