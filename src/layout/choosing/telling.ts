import type { Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { errorDf } from "../judge/error-df.ts";
import { toldModel, type JudgedRun, type ScatterChoice, type ToldModel } from "../judge/told.ts";

/** What some runs tell of one effect, for σ = 1. */
export interface ToldTerm {
  readonly term: Term;
  readonly label: string;
  /** Of the coded coefficient; null where it can't be told. */
  readonly standardError: number | null;
  /** For its error; 0 where none is left in the stratum in which it is compared. */
  readonly df: number;
}

/** A model over some runs, without the words and losses that `judge` adds: what a choice among many layouts needs. */
export interface Telling {
  readonly told: ToldModel;
  /** Runs less what the model takes. */
  readonly df: number;
  readonly terms: readonly ToldTerm[];
}

export function tellingOf(
  factors: readonly Factor[],
  runs: readonly JudgedRun[],
  terms: readonly Term[],
  scatter: ScatterChoice,
): Telling {
  const told = toldModel(runs, factors, { terms, ...scatter });
  const df = errorDf(told);
  return {
    told,
    df: runs.length - told.information.kept.length,
    terms: told.model.estimands.map(({ term, label }, place) => {
      const variance = told.variances[place] ?? null;
      return {
        term,
        label,
        standardError: variance === null ? null : Math.sqrt(variance),
        df: df.terms[place]?.df ?? 0,
      };
    }),
  };
}
