import type { Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { modelColumns, type ModelChoice } from "./model-columns.ts";
import { toldModel, type JudgedRun, type ScatterChoice } from "./told.ts";

/** What a term left out of the model puts into one that is in it. */
export interface AliasEntry {
  /** In words: the term whose estimate is moved. */
  readonly label: string;
  readonly omitted: string;
  /** Coded coefficient of `label` gains this share of the coded coefficient of `omitted`. */
  readonly share: number;
}

/**
 * The alias matrix (X′V⁻¹X)⁻¹X′V⁻¹Z: how far terms that are left out bias those that are fitted, in coded coefficients. Use it to
 * ask what a small model would hide. Shares below 10⁻⁹ are left out; where set-ups
 * scatter, by generalised least squares at `varianceRatio`. Refuses a model whose terms the runs can't tell apart.
 *
 * Example: the half fraction D = ABC, main effects, A × B × C left out: D gains the whole of it (share 1).
 */
export function aliasMatrix(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  options: ModelChoice & ScatterChoice & { readonly omitted: readonly Term[] },
): readonly AliasEntry[] {
  const { model, information, scatter } = toldModel(runs, factors, options);
  if (information.dropped.length > 0) {
    throw new LayoutError(
      "alias matrix: the runs can't tell all the terms apart. Ask for fewer terms or add runs.",
    );
  }
  const left = modelColumns(
    factors,
    options.omitted,
    runs.map(({ settings }) => ({ block: 1, settings })),
  );
  const rank = information.kept.length;
  return left.columns.slice(1).flatMap((column, index) => {
    const whitened = scatter.whitened(column);
    const along = information.orthogonal.map((unit) =>
      unit.reduce((sum, value, row) => sum + value * (whitened[row] ?? 0), 0),
    );
    return model.labels.flatMap((label, place) => {
      let share = 0;
      for (let other = place; other < rank; other += 1) {
        share += (information.inverseTriangle[place * rank + other] ?? 0) * (along[other] ?? 0);
      }
      return Math.abs(share) > 1e-9 ? [{ label, omitted: left.labels[index + 1] ?? "", share }] : [];
    });
  });
}
