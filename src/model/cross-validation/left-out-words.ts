import { sourceWords } from "../source-words.ts";
import { ModelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/index.ts";
import { crossValidate, type CrossValidation } from "./cross-validate.ts";

/**
 * How far runs are missed that took no part in the fit, beside what its own scatter claims, in one sentence for a page (see `crossValidate`); where runs can't be
 * left out, why not.
 * Example: of a power law on 12 runs it begins "Leaving out each run in turn, Ra of a run that the model has not seen is missed by 9.1 % of its value (root mean square)".
 */
export function leftOutSentence(fit: Fit): string {
  if (isMixedFit(fit))
    return `Runs are not left out in turn here: those of one ${sourceWords(fit.random[0] ?? "set-up")} hang together, so what a fresh one is in for is told by the sources of scatter.`;
  const told = validated(fit);
  return told === null ? "There are too few runs to leave any out in turn." : told.sentence;
}

/**
 * How far two models of the same readings miss runs that took no part in them, each run left out in turn, in the response's own unit whatever scale each was fitted
 * on, so that they can be set side by side: root mean squares over the runs that both can predict.
 * Null where either has random sources, the runs are not the same, or none can be predicted by both.
 */
export function leftOutBeside(
  one: Fit,
  other: Fit,
): { readonly one: number; readonly other: number; readonly runs: number } | null {
  if (isMixedFit(one) || isMixedFit(other)) return null;
  const [first, second] = [validated(one), validated(other)];
  if (first === null || second === null || first.rows.length !== second.rows.length) return null;
  let [sumOfOne, sumOfOther, runs] = [0, 0, 0];
  for (const [i, row] of first.rows.entries()) {
    const beside = second.rows[i];
    if (row.run !== beside.run) return null;
    const errors = [errorInUnit(row, one), errorInUnit(beside, other)];
    if (!errors.every((error) => Number.isFinite(error))) continue;
    sumOfOne += errors[0] ** 2;
    sumOfOther += errors[1] ** 2;
    runs++;
  }
  if (runs === 0) return null;
  return { one: Math.sqrt(sumOfOne / runs), other: Math.sqrt(sumOfOther / runs), runs };
}

function errorInUnit(
  { value, predicted }: CrossValidation["rows"][number],
  { logScale }: Pick<Fit, "logScale">,
): number {
  if (predicted === null) return Number.NaN;
  return logScale ? Math.exp(value) - Math.exp(predicted) : value - predicted;
}

function validated(fit: Fit): CrossValidation | null {
  try {
    return crossValidate(fit);
  } catch (error) {
    // One run alone can't be left out.
    if (error instanceof ModelError) return null;
    throw error;
  }
}
