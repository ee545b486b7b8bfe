import { termsOf, type ModelKind, type Term } from "../../model/index.ts";
import type { Factor, Run } from "../../trial/index.ts";
import { categoryBasis, termColumns, type ColumnParts, type Estimand } from "../coded-columns.ts";
import { LayoutError } from "../error.ts";

/** A question with the model's columns that answer it. */
export interface ModelEstimand extends Estimand {
  /** Which of `ModelColumns.terms` it belongs to. */
  readonly termIndex: number;
  /** The model's columns that its weights stand on. */
  readonly columns: readonly number[];
}

/** The design matrix of a model over some runs, on coded scales: the mean, then blocks, then terms. */
export interface ModelColumns {
  readonly terms: readonly Term[];
  readonly columns: readonly Float64Array[];
  /** What each column is made of; undefined for a column of blocks. */
  readonly parts: readonly (ColumnParts | undefined)[];
  /** In words, one a column. */
  readonly labels: readonly string[];
  readonly estimands: readonly ModelEstimand[];
}

/** What a judgement is about: a named set of terms, or terms given outright (the mean is always in). */
export interface ModelChoice {
  readonly model?: ModelKind;
  readonly terms?: readonly Term[];
}

export function chosenTerms(factors: readonly Factor[], choice: ModelChoice): readonly Term[] {
  if (choice.model !== undefined && choice.terms !== undefined) {
    throw new LayoutError("judge: got both a model and terms. Give one of them.");
  }
  const terms = choice.terms ?? termsOf(choice.model ?? "main", factors);
  return terms.filter((term) => Object.keys(term).length > 0);
}

export function modelColumns(
  factors: readonly Factor[],
  terms: readonly Term[],
  runs: readonly Pick<Run, "block" | "settings">[],
): ModelColumns {
  const settings = runs.map((run) => run.settings);
  const columns: Float64Array[] = [new Float64Array(runs.length).fill(1)];
  const parts: (ColumnParts | undefined)[] = [new Map()];
  const labels = ["mean"];
  const blocks = blockColumns(runs.map((run) => run.block));
  blocks.forEach((column, index) => {
    columns.push(column);
    parts.push(undefined);
    labels.push(`block ${index + 2}`);
  });
  const estimands: ModelEstimand[] = [];
  terms.forEach((term, termIndex) => {
    const made = termColumns(factors, term, settings);
    const from = columns.length;
    const own = made.columns.map((_, index) => from + index);
    columns.push(...made.columns);
    parts.push(...made.parts);
    labels.push(...made.columns.map((_, index) => made.estimands[index]?.label ?? ""));
    estimands.push(...made.estimands.map((estimand) => ({ ...estimand, termIndex, columns: own })));
  });
  return { terms, columns, parts, labels, estimands };
}

/** Blocks as a category: columns at right angles to the mean where blocks are of one size. */
export function blockColumns(blocks: readonly number[]): readonly Float64Array[] {
  const names = [...new Set(blocks)].sort((one, other) => one - other);
  if (names.length < 2) return [];
  return categoryBasis(names.length).map((values) =>
    Float64Array.from(blocks, (block) => values[names.indexOf(block)] ?? 0),
  );
}
