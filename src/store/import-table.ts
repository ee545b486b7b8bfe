import { readUnit, type UnitName } from "../units/index.ts";
import { StoreError } from "./error.ts";
import { kept, typedNumber, type TypedNumber } from "./number-field.ts";
import { chosen, type Answers, type Question } from "./question.ts";
import { readTable, type DataTable, type TableColumn } from "./read-table.ts";
import { delimiterCalled } from "./separators.ts";

/** Something in the file that must be mended there, or by another mapping, before it can be taken in. */
export interface ImportProblem {
  readonly line: number | null;
  readonly column: string;
  readonly text: string;
}

/** What is open after a look at a file: nothing is written before both lists are empty. */
export interface OpenMatters {
  readonly problems: readonly ImportProblem[];
  readonly questions: readonly Question[];
}

/** Collects problems and questions while a file is gone through. */
export interface Findings {
  readonly problem: (text: string, place?: { readonly line?: number; readonly column?: string }) => void;
  /** The answer's choice where the question was answered; null, and the question noted as open, where it was not. */
  readonly ask: (question: Question) => string | null;
  readonly matters: () => OpenMatters;
}

export function findings(answers: Answers): Findings {
  const problems: ImportProblem[] = [];
  const questions: Question[] = [];
  const problem: Findings["problem"] = (text, { line, column = "" } = {}) => {
    problems.push({ line: line ?? null, column, text });
  };
  const ask: Findings["ask"] = (question) => {
    const answer = chosen(question, answers);
    if (answer !== null && !("problem" in answer)) return answer.choice.id;
    if (answer !== null) problem(answer.problem);
    else if (questions.every((open) => open.id !== question.id)) questions.push(question);
    return null;
  };
  return { problem, ask, matters: () => ({ problems, questions }) };
}

/** The table, with answers on separator and decimal sign applied; null where it can't be read, which is noted. */
export function importTable(
  source: string | Uint8Array,
  file: string,
  answers: Answers,
  found: Findings,
): DataTable | null {
  const word = (id: string): string => {
    const answer = Object.hasOwn(answers, id) ? answers[id] : "";
    return typeof answer === "string" ? answer : answer.choice;
  };
  const delimiter = delimiterCalled(word("separator"));
  const decimal = word("decimal-sign");
  try {
    return readTable(source, {
      file,
      ...(delimiter === null ? {} : { delimiter }),
      ...(decimal === "point" || decimal === "comma" ? { decimal } : {}),
    });
  } catch (cause) {
    if (!(cause instanceof StoreError)) throw cause;
    cause.questions.forEach((question) => found.ask(question));
    if (cause.questions.length === 0)
      found.problem(cause.message, cause.line === null ? {} : { line: cause.line });
    return null;
  }
}

/** The unit of a column; null where it is missing or unknown. */
export function columnUnit({ unit }: TableColumn): UnitName | null {
  if (unit === "") return null;
  const answer = readUnit(unit);
  return answer.kind === "value" ? answer.value : null;
}

/** The number in a cell of a column with this unit; null for an empty cell, and for one with an error, which is noted. */
export function cellNumber(
  table: DataTable,
  column: TableColumn,
  row: number,
  unit: UnitName,
  found: Findings,
): TypedNumber | null {
  const text = column.texts[row];
  if (text.trim() === "") return null;
  const value = column.numbers?.[row];
  if (typeof value === "number") return { value, unit, ...kept(text.trim(), value, table.dialect.decimal) };
  const line = table.lines[row];
  try {
    return typedNumber(
      text,
      /[\p{L}µ"'%°]/u.test(text.replace(/e[+-]?\d+$/i, "")) ? "" : unit,
      unit,
      table.dialect.decimal,
      {
        file: table.file,
        line,
        field: column.name,
      },
    );
  } catch (cause) {
    if (!(cause instanceof StoreError)) throw cause;
    found.problem(cause.message, { line, column: column.name });
    return null;
  }
}

/** Numbers for the spots of a column: as they stand, or, where the spots have names, by first appearance. */
export interface Spots {
  readonly number: (row: number) => number;
  /** The spot's name, where it has one. */
  readonly name: (row: number) => string;
  readonly names: readonly string[];
}

export function spotsOf(column: TableColumn | null): Spots {
  if (column === null) return { number: () => 1, name: () => "", names: [] };
  const whole =
    column.numbers?.every((value) => value === null || (Number.isSafeInteger(value) && value >= 1)) === true;
  if (whole) return { number: (row) => column.numbers?.[row] ?? 1, name: () => "", names: [] };
  const names = [...new Set(column.texts.map((text) => text.trim()))].filter((name) => name !== "");
  const numbers = new Map(names.map((name, index) => [name, index + 1]));
  return {
    number: (row) => numbers.get(column.texts[row].trim()) ?? 1,
    name: (row) => column.texts[row].trim(),
    names,
  };
}
