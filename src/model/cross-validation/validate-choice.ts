import { formatNumber, listed } from "../../units/index.ts";
import type { ChosenFrom } from "../chosen-from.ts";
import { choiceNote } from "../chosen-from.ts";
import { termLabel } from "../design.ts";
import { ModelError, modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { Observation, Observations } from "../observations.ts";
import { requirePlainFit } from "../resample/bootstrap-order.ts";
import type { WorkOptions } from "../resample/work-options.ts";
import { termValue } from "../term-values.ts";
import { foldsOf, type FoldOptions } from "./folds.ts";
import { leftOut } from "./left-out.ts";
import {
  notPredictedText,
  predictiveScatter,
  scatterText,
  type PredictiveScatter,
} from "./predictive-scatter.ts";

/** A way to choose a model from data and fit it: the whole of it, so that it can be done anew. `options` go on to the fit. */
export type Choose = (observations: Observations, options: { readonly chosenFrom: ChosenFrom }) => Fit;

export interface ValidateChoiceOptions extends FoldOptions {
  /** How the choice is made, as `ChosenFrom.how`. */
  readonly how: string;
}

export interface ChoiceValidation extends PredictiveScatter {
  /** The model that all runs choose; it carries `chosenFrom` with the widening found here. */
  readonly fit: Fit;
  /** Root mean square of the errors with the chosen model kept and only refitted; null where it can't be told. */
  readonly keptSd: number | null;
  /** `predictiveSd` over `keptSd`, 1 at least: how many times as wide the intervals would have to be for the choice. Null where it can't be told. */
  readonly widening: number | null;
  /** For each term chosen in any part: in how many of the parts it was. */
  readonly chosen: readonly { readonly label: string; readonly parts: number }[];
  /** Parts that were left out; fewer than there are where it was stopped. */
  readonly parts: number;
  readonly stopped: boolean;
  readonly sentence: string;
}

/**
 * What a choice of model costs: the whole choice is made anew with each run (block, part) left out, and predicts what was left out; beside it the chosen model kept and
 * refitted, which is what its own intervals know of. Use it for every model that was picked by looking at the data: a subset of terms, a second stage, a transformation.
 *
 * Errors are compared on the scale of the fit that all runs choose, over the runs that both can predict. The same promise as `crossValidate`: by run, never by reading.
 * Source: Hastie, Tibshirani and Friedman, The Elements of Statistical Learning (second edition 2009), 7.10.2 (the choice belongs inside the cross-validation).
 */
export function validateChoice(
  observations: Observations,
  choose: Choose,
  options: ValidateChoiceOptions,
): ChoiceValidation {
  const steps = validated(observations, choose, options);
  for (;;) {
    const { done, value } = steps.next(false);
    if (done === true) return value;
  }
}

/** The same with a turn of the event loop after each part, with progress and a stop; after a stop the parts not left out yet count as not predicted, and it says so. */
export async function validateChoiceInSteps(
  observations: Observations,
  choose: Choose,
  options: ValidateChoiceOptions & Pick<WorkOptions, "signal" | "onProgress">,
): Promise<ChoiceValidation> {
  const { signal, onProgress } = options;
  const steps = validated(observations, choose, options);
  for (;;) {
    const { done, value } = steps.next(signal?.aborted === true);
    if (done === true) return value;
    onProgress?.(value);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** Leaves out part after part, and says how far it is; ends where it is told to stop. */
function* validated(
  observations: Observations,
  choose: Choose,
  options: ValidateChoiceOptions,
): Generator<{ readonly drawn: number; readonly asked: number }, ChoiceValidation, boolean> {
  const { how } = options;
  if (how.trim() === "")
    throw modelError("no word on how the model was chosen", 'such as "the best of 28 models"');
  const first = choose(observations, { chosenFrom: { how } });
  requirePlainFit(first, "cross-validation");
  const folds = foldsOf(observations.rows, options);
  const counts = new Map<string, number>();
  const anew: (number | null)[] = observations.rows.map(() => null);
  const chosenWithout = (rest: Observations): Fit | null => {
    try {
      return choose(rest, { chosenFrom: { how } });
    } catch (error) {
      // Too few runs, a factor that no longer moves: the rest can't choose, and what was left out counts as not predicted.
      if (error instanceof ModelError) return null;
      throw error;
    }
  };
  let leftOutParts = 0;
  for (let part = 0; part < folds.count; part++) {
    if (yield { drawn: part, asked: folds.count }) break;
    leftOutParts++;
    const { rest, blockOf } = withoutPart(observations, (i) => folds.of[i] !== part);
    const fit = chosenWithout(rest);
    if (fit === null) continue;
    for (const term of fit.terms) counts.set(termLabel(term), (counts.get(termLabel(term)) ?? 0) + 1);
    observations.rows.forEach((row, i) => {
      if (folds.of[i] === part) anew[i] = predictedBy(fit, row, blockOf.get(row.block), first);
    });
  }
  const newBlocks = options.leave === "block" && first.blocks !== null;
  const kept = leftOut(first, folds, { newBlocks });
  const both = anew.map((value, i) => (kept[i] === null ? null : value));
  const scatter = predictiveScatter(first.rows, both, first.weights);
  const keptSd = predictiveScatter(
    first.rows,
    kept.map((value, i) => (both[i] === null ? null : value)),
    first.weights,
  ).predictiveSd;
  const { predictiveSd } = scatter;
  const widening =
    predictiveSd !== null && keptSd !== null && keptSd > 0 ? Math.max(1, predictiveSd / keptSd) : null;
  const chosenFrom: ChosenFrom = { how, ...(widening === null ? {} : { widening }) };
  const chosen = [...counts.entries()]
    .filter(([label]) => label !== "intercept")
    .map(([label, parts]) => ({ label, parts }))
    .sort((a, b) => b.parts - a.parts);
  const answer = {
    ...scatter,
    fit: choose(observations, { chosenFrom }),
    keptSd,
    widening,
    chosen,
    parts: leftOutParts,
    stopped: leftOutParts < folds.count,
  };
  return { ...answer, sentence: inWords(answer, chosenFrom) };
}

/** The observations without a part, their blocks numbered anew: a block that left as a whole is one that the rest has never met. */
function withoutPart(
  observations: Observations,
  keep: (row: number) => boolean,
): { readonly rest: Observations; readonly blockOf: ReadonlyMap<number, number> } {
  const rows = observations.rows.filter((_, i) => keep(i));
  const met = [...new Set(rows.map(({ block }) => block))].sort((a, b) => a - b);
  const blockOf = new Map(met.map((block, place) => [block, place + 1]));
  const { blocks } = observations;
  return {
    blockOf,
    rest: {
      ...observations,
      rows: rows.map((row) => ({ ...row, block: blockOf.get(row.block)! })),
      ...(blocks === undefined
        ? {}
        : { blocks: { ...blocks, levels: met.map((block) => blocks.levels[block - 1]) } }),
    },
  };
}

/** What a fit makes of a run in a block (left out: the mean of all), on the scale of another fit; null where it can't tell. */
function predictedBy(
  fit: Fit,
  { settings }: Observation,
  block: number | undefined,
  like: Fit,
): number | null {
  const unmet = fit.factors.some(
    ({ name, kind, levels }) =>
      kind === "category" &&
      fit.terms.some((term) => Object.hasOwn(term, name)) &&
      !levels.includes(String(settings[name])),
  );
  if (unmet || (fit.inseparable.length > 0 && fit.predict(settings).mean === null)) return null;
  const place = block === undefined ? { settings } : { settings, block };
  const value = fit.coefficients.reduce(
    (sum, { estimate, term }) => sum + estimate * termValue(fit, term, place),
    0,
  );
  if (fit.logScale === like.logScale) return value;
  return fit.logScale ? Math.exp(value) : value > 0 ? Math.log(value) : null;
}

function inWords(answer: Omit<ChoiceValidation, "sentence">, chosenFrom: ChosenFrom): string {
  const { fit, predictiveSd, keptSd, chosen, parts, notPredicted, stopped } = answer;
  if (predictiveSd === null || keptSd === null)
    return stopped
      ? `${choiceNote(chosenFrom)} Stopped with ${parts} parts left out, of which none can be predicted from the others.`
      : `${choiceNote(chosenFrom)} No run can be predicted from the others.`;
  if (stopped)
    return `Stopped with ${parts} parts left out: with the choice made anew they are missed by ${scatterText(fit, predictiveSd)}; with the model kept, by ${scatterText(fit, keptSd)}${ratioText(predictiveSd, keptSd)}.`;
  const always = chosen.filter((one) => one.parts === parts).map(({ label }) => label);
  const sometimes = chosen
    .filter((one) => one.parts < parts)
    .map(({ label, parts: k }) => `${label} in ${k}`);
  const steady =
    always.length === 0
      ? "No term was chosen every time"
      : `${listed(always)} ${always.length === 1 ? "was" : "were"} chosen every time`;
  const rest = sometimes.length === 0 ? "" : `, ${listed(sometimes.slice(0, 6))} of ${parts}`;
  return `With the choice made anew, runs left out are missed by ${scatterText(fit, predictiveSd)}; with the model kept, by ${scatterText(fit, keptSd)}${ratioText(predictiveSd, keptSd)}. ${steady}${rest}.${notPredictedText(notPredicted)}`;
}

function ratioText(anew: number, kept: number): string {
  return kept > 0 ? ` (${formatNumber(anew / kept, { digits: 2 })} times)` : "";
}
