import type { Factor, Run } from "../../trial/index.ts";
import { setUpScatterOf, type SetUpScatter } from "../split-plot/set-up-scatter.ts";
import { informationOf, type Information } from "./information.ts";
import { chosenTerms, modelColumns, type ModelChoice, type ModelColumns } from "./model-columns.ts";

/** Runs, as everything that judges them takes them: in cutting order. */
export type JudgedRun = Pick<Run, "block" | "settings" | "wholePlot">;

/** A model over some runs, made ready so that every question is a few products: whitened columns as QR. */
export interface ToldModel {
  readonly model: ModelColumns;
  readonly scatter: SetUpScatter;
  /** True where set-ups scatter by themselves: some error is between whole plots. */
  readonly split: boolean;
  /** Of the whitened columns. */
  readonly information: Information;
  /** For each estimand: its weights carried to the orthogonal columns (R⁻ᵀ·weights), or null where it can't be estimated. */
  readonly along: readonly (Float64Array | null)[];
  /** For each estimand, for σ = 1; null where it can't be estimated. */
  readonly variances: readonly (number | null)[];
}

export interface ScatterChoice {
  /** Variance between set-ups of the hard factors over the variance between runs; default 1. */
  readonly varianceRatio?: number | undefined;
}

export function toldModel(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  options: ModelChoice & ScatterChoice,
): ToldModel {
  const model = modelColumns(factors, chosenTerms(factors, options), runs);
  const scatter = setUpScatterOf(runs, factors, options);
  const information = informationOf(model.columns.map(scatter.whitened));
  const mixed = new Set(
    information.dropped.flatMap(({ column, on }) => [column, ...on.map((part) => part.column)]),
  );
  const rank = information.kept.length;
  const placeOf = new Map(information.kept.map((column, place) => [column, place]));
  const along = model.estimands.map((estimand) => {
    const weights = new Float64Array(rank);
    for (const [index, column] of estimand.columns.entries()) {
      const weight = estimand.weights[index] ?? 0;
      if (weight === 0) continue;
      if (mixed.has(column)) return null;
      weights[placeOf.get(column) ?? 0] = weight;
    }
    return carried(information, weights);
  });
  return {
    model,
    scatter,
    split: scatter.hard.length > 0 && scatter.ratio > 0,
    information,
    along,
    variances: along.map((vector) => (vector === null ? null : squaredLength(vector))),
  };
}

/** R⁻ᵀ·weights: its squared length is the variance of the weighted sum of coefficients, for σ = 1. */
export function carried({ kept, inverseTriangle }: Information, weights: Float64Array): Float64Array {
  const rank = kept.length;
  const result = new Float64Array(rank);
  for (let row = 0; row < rank; row += 1) {
    const weight = weights[row] ?? 0;
    if (weight === 0) continue;
    for (let column = row; column < rank; column += 1) {
      result[column] = (result[column] ?? 0) + weight * (inverseTriangle[row * rank + column] ?? 0);
    }
  }
  return result;
}

export function squaredLength(vector: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < vector.length; index += 1) sum += (vector[index] ?? 0) ** 2;
  return sum;
}

/** The (whitened) weights of the runs in an estimate: the orthogonal columns, each so many times. */
export function runWeights({ orthogonal, rows }: Information, along: Float64Array): Float64Array {
  const result = new Float64Array(rows);
  orthogonal.forEach((unit, place) => {
    const share = along[place] ?? 0;
    if (share === 0) return;
    for (let row = 0; row < rows; row += 1) result[row] = (result[row] ?? 0) + share * (unit[row] ?? 0);
  });
  return result;
}
