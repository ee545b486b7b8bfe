import { listed } from "../../units/index.ts";
import type { Term } from "../../model/index.ts";
import { wholePlotsOf, type Factor } from "../../trial/index.ts";
import { strataOf } from "../split-plot/strata.ts";
import { dfText } from "./figures.ts";
import { errorDf, type ErrorDf, type TermStratum } from "./error-df.ts";
import type { ModelChoice } from "./model-columns.ts";
import { pureErrorDf, pureErrorWithin } from "./pure-error.ts";
import { toldModel, type JudgedRun, type ScatterChoice, type ToldModel } from "./told.ts";

/** A layer of the analysis: what is compared in it, and with how much error. */
export interface ErrorStratum {
  readonly name: "replicates" | "blocks" | "whole plots" | "runs";
  readonly count: number;
  /** All that can be learned between its groups; over the strata it adds up to runs less 1. */
  readonly df: number;
  /** Taken by terms; for blocks all of it. */
  readonly dfTerms: number;
  readonly dfError: number;
  readonly dfPureError: number;
  readonly dfLackOfFit: number;
  /** Labels of the terms compared here. */
  readonly terms: readonly string[];
  /** The expected mean square of its error in units of σ² (the variance of a run); null for blocks, which are not tested. */
  readonly expectedErrorMeanSquare: number | null;
  readonly text: string;
}

/** How a term is tested. */
export interface TermTest {
  readonly term: Term;
  readonly label: string;
  readonly stratum: TermStratum;
  readonly df: number | null;
  /** In words: what its F ratio divides by, or why there is none and what mends it. */
  readonly comparedWith: string;
}

export interface ErrorStrata {
  readonly varianceRatio: number | null;
  readonly strata: readonly ErrorStratum[];
  readonly terms: readonly TermTest[];
  /** What can't be tested, and how many more set-ups mend it. */
  readonly sentences: readonly string[];
}

/**
 * The strata of an analysis: which terms are compared between whole plots and which between runs, degrees of freedom for error in
 * each, what each F ratio divides by, and what can't be tested with how many more set-ups mend it.
 *
 * Use it with any list of runs in cutting order; `model` or `terms` say what will be fitted (main effects unless stated);
 * `varianceRatio` is the variance between set-ups over that between runs (1 unless stated) and matters only for terms that are
 * compared in part between whole plots. Without a hard factor there is one stratum of error, the runs.
 *
 * Example: an edge that is hard to change in 4 whole plots of 4 runs, feed and speed within: edge has 2 degrees of freedom for
 * error, feed and speed 10.
 */
export function errorStrata(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  options: ModelChoice & ScatterChoice = {},
): ErrorStrata {
  const told = toldModel(runs, factors, options);
  const df = errorDf(told);
  const strata = strataTable(told, df, runs, factors);
  return {
    varianceRatio: told.scatter.hard.length > 0 ? told.scatter.ratio : null,
    strata,
    terms: told.model.estimands.map(({ term, label }, place) => {
      const { stratum, df: own } = df.terms[place] ?? { stratum: "runs", df: null };
      return { term, label, stratum, df: own, comparedWith: comparison(told, df, place) };
    }),
    sentences: untestedSentences(told, df),
  };
}

export function strataTable(
  told: ToldModel,
  df: ErrorDf,
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
): readonly ErrorStratum[] {
  const { split, scatter, model } = told;
  const pure = pureErrors(told, df, runs, factors);
  const size = scatter.sizes.length === 0 ? 1 : runs.length / scatter.sizes.length;
  const all = strataOf(runs, factors);
  // Where set-ups add no scatter, whole plots are no stratum of their own.
  const shown = split ? all : all.filter(({ name }) => name !== "whole plots");
  return shown.map(({ name, count, df: own, text }, index) => {
    const above = shown[index - 1]?.count ?? 1;
    const total = split ? own : count - above;
    if (name === "blocks" || name === "replicates") {
      return {
        name,
        count,
        df: total,
        dfTerms: total,
        dfError: 0,
        dfPureError: 0,
        dfLackOfFit: 0,
        terms: [],
        expectedErrorMeanSquare: null,
        text,
      };
    }
    const dfError = name === "whole plots" ? df.wholePlots : df.runs;
    const dfPureError = name === "whole plots" ? pure.wholePlots : pure.runs;
    return {
      name,
      count,
      df: total,
      dfTerms: total - dfError,
      dfError,
      dfPureError,
      dfLackOfFit: dfError - dfPureError,
      terms: model.estimands.flatMap(({ label }, place) => {
        const stratum = df.terms[place]?.stratum ?? "runs";
        return stratum === name || stratum === "both" ? [label] : [];
      }),
      expectedErrorMeanSquare: name === "whole plots" ? 1 + scatter.ratio * size : 1,
      text,
    };
  });
}

function pureErrors(
  { split }: ToldModel,
  df: ErrorDf,
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
): { readonly wholePlots: number; readonly runs: number } {
  const all = pureErrorDf(factors, runs);
  const plots = split ? wholePlotsOf(runs, factors) : null;
  if (!plots) return { wholePlots: 0, runs: all };
  const within = pureErrorWithin(factors, runs, plots.of);
  return { wholePlots: Math.min(df.wholePlots, all - within), runs: Math.min(df.runs, within) };
}

function comparison(told: ToldModel, df: ErrorDf, place: number): string {
  const label = told.model.estimands[place]?.label ?? "";
  const own = df.terms[place];
  if (told.along[place] === null) return "not told: these runs can't tell it from other terms";
  if (own?.df === null || own === undefined) {
    const where = own?.stratum === "runs" ? "runs" : "set-ups";
    return `no test: no degree of freedom is left between ${where}`;
  }
  if (!told.split) return `mean square of ${label} over that of error (${dfText(own.df)})`;
  if (own.stratum === "runs")
    return `mean square of ${label} over that between runs of a set-up (${dfText(own.df)})`;
  if (own.stratum === "whole plots")
    return `mean square of ${label} over that between set-ups (${dfText(own.df)})`;
  return `compared in part between set-ups and in part within them: its own mix of both mean squares (about ${dfText(own.df)})`;
}

/** What no whole plot is left to test, and the smallest mend; empty where everything can be tested. */
export function untestedSentences(told: ToldModel, df: ErrorDf): readonly string[] {
  const { split, scatter, model, along } = told;
  if (!split) return [];
  const untested = (wanted: (stratum: TermStratum) => boolean) =>
    model.estimands.flatMap(({ label }, place) => {
      const own = df.terms[place];
      return along[place] !== null && own?.df === null && wanted(own.stratum) ? [label] : [];
    });
  const whole = untested((stratum) => stratum !== "runs");
  const within = untested((stratum) => stratum === "runs");
  const count = scatter.sizes.length;
  const sentences: string[] = [];
  if (whole.length > 0) {
    const twice = count + df.wholePlots;
    sentences.push(
      `${listed(whole)} can't be tested: ${count} set-up${count === 1 ? "" : "s"} of ${listed(scatter.hard)} leave no degree of freedom for the scatter between set-ups. 1 more set-up at a setting that is there already is the least; cutting every set-up twice (${2 * count} in all) leaves ${twice}.`,
    );
  }
  if (within.length > 0) {
    sentences.push(
      `${listed(within)} can't be tested: no degree of freedom is left between runs of a set-up. Cut more runs on each set-up, or ask for fewer terms.`,
    );
  }
  return sentences;
}
