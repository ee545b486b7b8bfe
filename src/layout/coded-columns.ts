import { listed } from "../units/index.ts";
import type { Term } from "../model/index.ts";
import type { CategoryFactor, Factor, Settings } from "../trial/index.ts";
import { LayoutError } from "./error.ts";
import { codedSetting } from "./levels.ts";

/**
 * One thing that a term asks about: for quantities the coded coefficient itself, for a category one level against the
 * first (halved, so that twice it is the whole step, as for a quantity from low to high).
 */
export interface Estimand {
  readonly term: Term;
  readonly label: string;
  /** Weights on the term's own columns. */
  readonly weights: Float64Array;
  /** The coded contrast, run by run: ±1 at the two levels compared, 0 at others. Its correlations say what moves with it. */
  readonly contrast: Float64Array;
}

/** What one column is made of, factor by factor: a power of a quantity, or one of a category's basis columns. */
export type ColumnParts = ReadonlyMap<string, { readonly power: number } | { readonly basis: number }>;

/** The columns that a term takes in the design matrix. */
export interface TermColumns {
  readonly term: Term;
  readonly columns: readonly Float64Array[];
  /** One a column. */
  readonly parts: readonly ColumnParts[];
  readonly estimands: readonly Estimand[];
}

/** What one factor contributes to a term: its columns, and how each question weighs them. */
interface FactorPart {
  readonly columns: readonly Float64Array[];
  readonly parts: readonly ({ readonly power: number } | { readonly basis: number })[];
  readonly questions: readonly {
    readonly key: string;
    readonly degree: number;
    readonly label: string;
    readonly weights: readonly number[];
    readonly contrast: Float64Array;
  }[];
}

/**
 * Columns of a category with L levels: orthogonal comparisons of each level with those before it (Helmert), scaled so
 * that levels in equal number give a mean square of 1. Two levels give −1 and +1.
 */
export function categoryBasis(levels: number): readonly (readonly number[])[] {
  return Array.from({ length: levels - 1 }, (_, index) => {
    const upper = index + 1;
    const scale = Math.sqrt(levels / (upper * (upper + 1)));
    return Array.from({ length: levels }, (_unused, level) =>
      level < upper ? -scale : level === upper ? upper * scale : 0,
    );
  });
}

/** The columns of a term over some runs, coded −1..+1. The intercept `{}` is a column of ones. */
export function termColumns(factors: readonly Factor[], term: Term, runs: readonly Settings[]): TermColumns {
  const ones = new Float64Array(runs.length).fill(1);
  let columns: readonly Float64Array[] = [ones];
  let questions: readonly {
    term: Term;
    labels: readonly string[];
    weights: readonly number[];
    contrast: Float64Array;
  }[] = [{ term: {}, labels: [], weights: [1], contrast: ones }];
  let parts: readonly ColumnParts[] = [new Map()];
  for (const [name, degree] of Object.entries(term)) {
    const part = factorPart(factors, name, degree, runs);
    columns = columns.flatMap((column) => part.columns.map((other) => product(column, other)));
    parts = parts.flatMap((before) => part.parts.map((own) => new Map([...before, [name, own]])));
    questions = questions.flatMap((question) =>
      part.questions.map((asked) => ({
        term: { ...question.term, [asked.key]: asked.degree },
        labels: [...question.labels, asked.label],
        weights: question.weights.flatMap((weight) => asked.weights.map((other) => weight * other)),
        contrast: product(question.contrast, asked.contrast),
      })),
    );
  }
  return {
    term,
    columns,
    parts,
    estimands: questions.map((question) => ({
      term: question.term,
      label: question.labels.length === 0 ? "mean" : question.labels.join(" × "),
      weights: Float64Array.from(question.weights),
      contrast: question.contrast,
    })),
  };
}

function factorPart(
  factors: readonly Factor[],
  name: string,
  degree: number,
  runs: readonly Settings[],
): FactorPart {
  const factor = factors.find((candidate) => candidate.name === name);
  if (!factor) {
    throw new LayoutError(
      `terms: "${name}" is not a factor of this trial. It has ${listed(factors.map((candidate) => candidate.name))}.`,
    );
  }
  if (!Number.isInteger(degree) || degree < 1) {
    throw new LayoutError(`terms: the degree of ${name} is ${degree}; expected a whole number from 1.`);
  }
  if (factor.kind === "category") return categoryPart(factor, degree, runs);
  const column = Float64Array.from(runs, (settings) => codedSetting(factor, settings[name]) ** degree);
  return {
    columns: [column],
    parts: [{ power: degree }],
    questions: [{ key: name, degree, label: name + power(degree), weights: [1], contrast: column }],
  };
}

function categoryPart(factor: CategoryFactor, degree: number, runs: readonly Settings[]): FactorPart {
  if (degree !== 1) {
    throw new LayoutError(
      `terms: ${factor.name} is a category and has no power ${degree}. Use ${factor.name} to the first.`,
    );
  }
  const places = runs.map((settings, index) => {
    const place = factor.levels.indexOf(String(settings[factor.name]));
    if (place >= 0) return place;
    throw new LayoutError(
      `run ${index + 1}: ${JSON.stringify(settings[factor.name])} is not a level of ${factor.name}. Its levels are ${listed(factor.levels.map((level) => `"${level}"`))}.`,
    );
  });
  const basis = categoryBasis(factor.levels.length);
  const first = factor.levels[0] ?? "";
  return {
    columns: basis.map((values) => Float64Array.from(places, (place) => values[place] ?? 0)),
    parts: basis.map((_, index) => ({ basis: index })),
    questions: factor.levels.slice(1).map((level, index) => ({
      key: `${factor.name}=${level}`,
      degree: 1,
      label: `${factor.name} ${level} against ${first}`,
      weights: basis.map((values) => ((values[index + 1] ?? 0) - (values[0] ?? 0)) / 2),
      contrast: Float64Array.from(places, (place) => (place === index + 1 ? 1 : place === 0 ? -1 : 0)),
    })),
  };
}

function product(one: Float64Array, other: Float64Array): Float64Array {
  return one.map((value, index) => value * (other[index] ?? 0));
}

function power(degree: number): string {
  const raised = ["", "", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"][degree];
  return raised ?? `^${degree}`;
}
