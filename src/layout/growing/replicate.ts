import { tQuantile } from "../../numerics/index.ts";
import { termsOf, type Term } from "../../model/index.ts";
import { whyNotASetting, type Factor, type Settings } from "../../trial/index.ts";
import { differenceUnit, listed } from "../../units/index.ts";
import { termColumns } from "../coded-columns.ts";
import { LayoutError } from "../error.ts";
import { informationOf } from "../judge/information.ts";
import { modelColumns, type ModelColumns } from "../judge/model-columns.ts";
import { settingWords } from "../levels.ts";
import { figures } from "./brings.ts";
import { cutSettings } from "./candidates.ts";
import { plannedLevels } from "./cut.ts";
import { effectOf, effectWords } from "./effect-words.ts";
import type { Cut, Wanted } from "./growth.ts";
import type { HowBy } from "./how.ts";
import { unitOf } from "./measure.ts";
import { chosenRepeats, type Repeats } from "./repeats.ts";
import { distinct } from "./separate.ts";

/** Runs tried when a half-width is to be reached, and no number of runs was given. */
const MOST_REPEATS = 40;
/** Runs repeated where neither a number nor a half-width is given. */
const FEW = 4;

/** What is to be known better: weights on the model's columns, and how many of its standard errors the figure has. */
interface Question {
  readonly words: string;
  /** One a figure; a category of three levels or more has several. */
  readonly weights: readonly (readonly number[])[];
  /** 2 for an effect from low to high, 1 for a mean. */
  readonly times: number;
}

/**
 * Which runs to cut again, and how few, so that one question is answered better: an effect, a term, or the mean at one setting
 * (a recipe's, or the one on which a decision hangs). All choices are tried where they are few enough, else the best found by
 * exchange. Repeats of runs that say nothing about the question are never taken.
 */
export function wantedByReplication(cut: Cut, how: HowBy<"replicate">): Wanted {
  const settings = cutSettings(cut);
  const terms = distinct([...(how.terms ?? mainOf(cut)), ...asTerm(cut, how)]);
  const last = Math.max(...cut.asCut.map((run) => run.block));
  const block = how.block === "new" ? last + 1 : last;
  const model = modelColumns(cut.factors, terms, [
    ...cut.asCut,
    ...settings.map((own) => ({ block, settings: own })),
  ]);
  const question = questionOf(cut, how, model, terms);
  const before = beforeOf(cut, terms, how);
  const repeats = narrowed(cut, model, question, how);
  const final = repeats.steps.at(-1);
  const unit = unitOf(cut, how);
  const told = (halfWidth: number | null) =>
    halfWidth === null ? "no interval" : `± ${figures(halfWidth)} ${differenceUnit(unit)}`.trim();
  const fewer = repeats.steps
    .slice(0, -1)
    .filter(({ halfWidth }) => halfWidth !== null)
    .map(({ runs, halfWidth }) => `${runs} ${runs === 1 ? "run" : "runs"} ${told(halfWidth)}`);
  const shrinks =
    final?.halfWidth !== undefined &&
    final.halfWidth !== null &&
    (before === null || final.halfWidth < before * (1 - 1e-9));
  if (!shrinks)
    throw noGain(question, repeats.steps.length, told(before), told(final?.halfWidth ?? null), how);
  return {
    runs: repeats.places.map((place) => ({ role: "added" as const, settings: settings[place] ?? {} })),
    notes: [
      `Cut again: ${listed(againWords(cut.factors, settings, repeats.places))}. No other choice of so many repeats that was tried says more about ${question.words}.`,
    ],
    terms,
    brings: [
      `${question.words.charAt(0).toUpperCase()}${question.words.slice(1)}: ${told(before)} becomes ${told(final?.halfWidth ?? null)} with ${final?.runs} ${final?.runs === 1 ? "run" : "runs"}${fewer.length > 0 ? ` (${listed(fewer)})` : ""}.`,
    ],
  };
}

function mainOf(cut: Cut): readonly Term[] {
  return termsOf(
    "main",
    cut.factors.filter((factor) => plannedLevels(factor, cut.asCut).length > 1),
  ).filter((term) => Object.keys(term).length > 0);
}

function asTerm(cut: Cut, { question }: HowBy<"replicate">): readonly Term[] {
  if ("at" in question) return [];
  return [typeof question.effect === "string" ? effectOf(question.effect, cut.factors) : question.effect];
}

function questionOf(
  cut: Cut,
  how: HowBy<"replicate">,
  model: ModelColumns,
  terms: readonly Term[],
): Question {
  const width = model.columns.length;
  if ("at" in how.question) {
    const at = completed(cut.factors, how.question.at);
    const row = new Array<number>(width).fill(0);
    row[0] = 1;
    // Blocks are averaged evenly, as the fit foretells; their columns add to nothing over all blocks.
    let from = width;
    for (const term of [...terms].reverse()) {
      const own = termColumns(cut.factors, term, [at]).columns;
      from -= own.length;
      own.forEach((column, index) => (row[from + index] = column[0] ?? 0));
    }
    const words = cut.factors.map(
      (factor) => `${factor.name} ${settingWords(factor, at[factor.name] ?? "")}`,
    );
    return { words: `the mean at ${listed(words)}`, weights: [row], times: 1 };
  }
  const [asked = {}] = asTerm(cut, how);
  const index = terms.findIndex((term) => sameTerm(term, asked));
  const weights = model.estimands
    .filter(({ termIndex }) => termIndex === index)
    .map((estimand) => {
      const row = new Array<number>(width).fill(0);
      estimand.columns.forEach((column, place) => (row[column] = estimand.weights[place] ?? 0));
      return row;
    });
  return { words: `the effect of ${effectWords(asked)}`, weights, times: 2 };
}

function sameTerm(one: Term, other: Term): boolean {
  const [names, others] = [Object.keys(one), Object.keys(other)];
  return names.length === others.length && names.every((name) => one[name] === other[name]);
}

/** Settings for every factor; refused where one is missing or can't stand for it. */
export function completed(factors: readonly Factor[], at: Settings): Settings {
  const unknown = Object.keys(at).find((name) => !factors.some((factor) => factor.name === name));
  if (unknown !== undefined) {
    throw new LayoutError(
      `grow.at: "${unknown}" is not a factor of this trial. It has ${listed(factors.map(({ name }) => name))}.`,
    );
  }
  for (const factor of factors) {
    const expected = whyNotASetting(factor, at[factor.name]);
    if (expected === null) continue;
    throw new LayoutError(
      `grow.at: ${factor.name} is ${at[factor.name] === undefined ? "missing" : JSON.stringify(at[factor.name])}; expected ${expected}. Give a setting for each of ${listed(factors.map(({ name }) => name))}.`,
    );
  }
  return Object.fromEntries(factors.map(({ name }) => [name, at[name] ?? ""]));
}

/** The half-width with the runs that were cut; null where there is none yet. */
function beforeOf(cut: Cut, terms: readonly Term[], how: HowBy<"replicate">): number | null {
  const model = modelColumns(cut.factors, terms, cut.asCut);
  const question = questionOf(cut, how, model, terms);
  const repeats = chosenRepeats({
    columns: model.columns,
    cut: cut.asCut.length,
    weights: question.weights,
    runs: 0,
  });
  if (repeats === null) return null;
  return halfWidthOf(repeats, cut.asCut.length, how, question.times);
}

function halfWidthOf(
  { variance, rank }: Pick<Repeats, "variance" | "rank">,
  runs: number,
  how: HowBy<"replicate">,
  times: number,
): number | null {
  const df = runs - rank;
  if (df < 1 || !Number.isFinite(variance)) return null;
  return tQuantile((1 + how.confidence) / 2, df) * times * (how.sigma ?? 1) * Math.sqrt(variance);
}

interface Narrowed {
  readonly places: readonly number[];
  readonly steps: readonly { readonly runs: number; readonly halfWidth: number | null }[];
}

function narrowed(cut: Cut, model: ModelColumns, question: Question, how: HowBy<"replicate">): Narrowed {
  const goal = how.halfWidth;
  const most = how.runs ?? (goal === undefined ? FEW : MOST_REPEATS);
  const steps: { runs: number; halfWidth: number | null }[] = [];
  let places: readonly number[] = [];
  for (let runs = 1; runs <= most; runs += 1) {
    const repeats = chosenRepeats({
      columns: model.columns,
      cut: cut.asCut.length,
      weights: question.weights,
      runs,
      from: places,
    });
    if (repeats === null) throw untold(question, model, cut.asCut.length);
    places = repeats.places;
    const halfWidth = halfWidthOf(repeats, cut.asCut.length + runs, how, question.times);
    steps.push({ runs, halfWidth });
    if (goal !== undefined && halfWidth !== null && halfWidth <= goal) return { places, steps };
  }
  if (goal !== undefined) {
    const reached = steps.at(-1)?.halfWidth ?? null;
    throw new LayoutError(
      `grow.halfWidth: ${most} repeats bring ${question.words} to ${reached === null ? "no interval" : `± ${figures(reached)}`}, not to ± ${figures(goal)}. Bear a wider interval, or bring the scatter down first.`,
    );
  }
  return { places, steps };
}

function untold(question: Question, model: ModelColumns, cutRuns: number): LayoutError {
  const { dropped } = informationOf(model.columns.map((column) => column.slice(0, cutRuns)));
  const labels = [
    ...new Set(
      dropped
        .flatMap(({ column, on }) => [...on.map((part) => part.column), column])
        .map((place) => model.labels[place] ?? ""),
    ),
  ].filter((label) => label !== "mean" && !/^block \d+$/.test(label));
  return new LayoutError(
    `grow by replicate: the runs can't tell ${question.words} from others (${listed(labels)}), and repeats of the same runs never will. Use "separate" or "fold".`,
  );
}

function noGain(
  question: Question,
  runs: number,
  before: string,
  after: string,
  how: HowBy<"replicate">,
): LayoutError {
  const mend =
    how.block === "new"
      ? `A new block brings a level of its own, which so few runs must pay for: cut them on at once, everything as it was ("block": "last"), or take more runs.`
      : "Take more runs.";
  return new LayoutError(
    `grow by replicate: with ${runs} more ${runs === 1 ? "run" : "runs"} ${question.words} goes from ${before} to ${after}, which is no gain. ${mend}`,
  );
}

/** "feed 0.08 mm/rev, speed 800 rev/min (twice)". */
function againWords(
  factors: readonly Factor[],
  settings: readonly Settings[],
  places: readonly number[],
): readonly string[] {
  return [...new Set(places)].map((place) => {
    const times = places.filter((other) => other === place).length;
    const at = factors.map(
      (factor) => `${factor.name} ${settingWords(factor, settings[place]?.[factor.name] ?? "")}`,
    );
    return `${at.join(", ")}${times === 1 ? "" : times === 2 ? " (twice)" : ` (${times} times)`}`;
  });
}
