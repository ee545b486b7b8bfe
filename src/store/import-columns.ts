import { nearestName, type TrialSpec } from "../trial/index.ts";
import { quoted } from "./error.ts";
import type { Findings } from "./import-table.ts";
import { columnWords, isReplicate, usualWord } from "./import-words.ts";
import { choice, type Question } from "./question.ts";
import type { DataTable, TableColumn } from "./read-table.ts";

/** What a column of the file is taken to mean. */
export interface ImportColumn {
  readonly column: TableColumn;
  /** A word of `columnWords`, or the name of a factor or response; null where it is still asked. */
  readonly meaning: string | null;
  /** Why: "named so", "by the mapping", "answered", "a usual header". */
  readonly why: string;
  /** The first cells, for a preview. */
  readonly samples: readonly string[];
}

/** Meanings by the name of the column: a word such as "run", "spot", "leave out", or the name of a factor or response. */
export type Mapping = Readonly<Record<string, string>>;

/** What each column means: by the mapping, by its name, by a usual header; asked where that does not tell. */
export function importColumns(
  table: DataTable,
  spec: TrialSpec,
  mapping: Mapping,
  found: Findings,
): readonly ImportColumn[] {
  const names = [...spec.factors.map(({ name }) => name), ...spec.responses.map(({ name }) => name)];
  const known = [...columnWords, ...names];
  for (const [name, meaning] of Object.entries(mapping)) {
    if (!table.columns.some((column) => sameName(column.name, name))) {
      found.problem(
        `the mapping names the column ${quoted(name)}, which the file does not have; it has ${table.columns.map((column) => column.name).join(", ")}.`,
      );
    }
    if (!known.includes(meaning)) {
      const near = nearestName(meaning, known);
      const mend = near === null ? "" : ` Did you mean ${quoted(near)}?`;
      found.problem(
        `the mapping gives ${quoted(name)} the meaning ${quoted(meaning)}; expected one of ${known.join(", ")}.${mend}`,
      );
    }
  }
  const hasRun =
    table.columns.some(({ name }) => usualWord(name) === "run") || Object.values(mapping).includes("run");
  const columns = table.columns.map((column): ImportColumn => {
    const [meaning, why] = meaningOf(column, names, mapping, hasRun, found);
    return { column, meaning, why, samples: column.texts.slice(0, 3) };
  });
  refuseTwice(columns, spec, found);
  return columns;
}

function meaningOf(
  column: TableColumn,
  names: readonly string[],
  mapping: Mapping,
  hasRun: boolean,
  found: Findings,
): readonly [string | null, string] {
  const mapped = Object.entries(mapping).find(([name]) => sameName(name, column.name))?.[1];
  if (mapped !== undefined) return [mapped, "by the mapping"];
  const named = names.find((name) => sameName(name, column.name));
  if (named !== undefined) return [named, "named so"];
  // Three columns Ra 1, Ra 2, Ra 3 are three readings of each run.
  const numbered = names.find((name) => new RegExp(`^${escaped(name)}[ _#-]?\\d+$`, "i").test(column.name));
  if (numbered !== undefined) return [numbered, "a numbered reading"];
  const word = usualWord(column.name);
  if (word !== null) return [word, "a usual header"];
  // With a run column, rows of one run are readings of one surface, and this column can only count them.
  if (isReplicate(column.name) && hasRun) return ["repeat", "counts the rows of a run"];
  if (column.texts.every((text) => text.trim() === "")) return ["leave out", "empty"];
  const answer = found.ask(askMeaning(column, names));
  return answer === null ? [null, "asked"] : [answer, "answered"];
}

function askMeaning({ header, name, texts }: TableColumn, names: readonly string[]): Question {
  const near = nearestName(name, names);
  const guess = near === null ? "" : ` It looks like ${near}.`;
  const ordered = near === null ? names : [near, ...names.filter((other) => other !== near)];
  return {
    id: `column ${name}`,
    kind: "column",
    text: `What is the column ${quoted(header)} (${texts.slice(0, 3).map(quoted).join(", ")}, …)?${guess}`,
    line: 1,
    run: null,
    field: name,
    choices: [
      ...ordered.map((other) => choice(other, other)),
      choice("leave out", "Leave it out"),
      ...columnWords.filter((word) => word !== "leave out").map((word) => choice(word, word)),
    ],
  };
}

function refuseTwice(columns: readonly ImportColumn[], spec: TrialSpec, found: Findings): void {
  const responses = spec.responses.map(({ name }) => name);
  const once = columns.filter(
    ({ meaning }) =>
      meaning !== null && meaning !== "leave out" && meaning !== "note" && !responses.includes(meaning),
  );
  once.forEach(({ column, meaning }, index) => {
    const first = once.slice(0, index).find((other) => other.meaning === meaning);
    if (first === undefined) return;
    found.problem(
      `the columns ${quoted(first.column.name)} and ${quoted(column.name)} both mean ${meaning ?? ""}. Leave one of them out.`,
      { column: column.name },
    );
  });
}

/** The column with this meaning; null where the file has none. */
export function columnFor(columns: readonly ImportColumn[], meaning: string): TableColumn | null {
  return columns.find((one) => one.meaning === meaning)?.column ?? null;
}

export function sameName(a: string, b: string): boolean {
  return a.trim().toLowerCase() === b.trim().toLowerCase();
}

function escaped(name: string): string {
  return name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
