import { formatNumber } from "../../units/index.ts";
import type { Fit } from "../fit.ts";
import { requirePlainFit } from "../resample/bootstrap-order.ts";
import { foldsOf, type FoldOptions } from "./folds.ts";
import { leftOut } from "./left-out.ts";
import {
  notPredictedText,
  predictiveScatter,
  scatterText,
  type PredictiveScatter,
} from "./predictive-scatter.ts";

export interface CrossValidation extends PredictiveScatter {
  readonly leave: "run" | "block" | number;
  readonly parts: number;
  /** Of the sharing out into parts; null where chance played none. */
  readonly seed: number | null;
  readonly residualSd: number | null;
  /** `predictiveSd` over `residualSd`; null where either is missing or zero. */
  readonly timesResidual: number | null;
  /** What that would be of a model fixed beforehand, by its number of terms alone; null unless runs are left out one by one. */
  readonly timesExpected: number | null;
  readonly sentence: string;
}

/**
 * How well the model predicts runs that took no part in it: each run (all of its readings), each block, or parts of the runs are left out in turn, and predicted from
 * the rest. Use it beside the residual scatter, which is that of runs the model has seen.
 *
 * Never reading by reading: a reading left out while others of its run stay is no fresh run. Single runs by their leverage, exactly as if each fit were made from nothing
 * (Allen 1974, Technometrics 16, 125–127). Runs that the others can't predict are named and left out of the figures. A block left out that was fitted at its own level is
 * predicted at the mean of the other blocks: what a block yet to come is in for.
 * Refused: fits with random sources, fewer runs (or blocks) than parts.
 * Example: y 1, 2, 3, 5 at x 1, 2, 3, 4 by a straight line: errors 0.67, −0.14, −0.57 and 1 give 0.67 beside a residual scatter of 0.39.
 */
export function crossValidate(fit: Fit, options: FoldOptions = {}): CrossValidation {
  const { leave = "run", seed = 1 } = options;
  requirePlainFit(fit, "cross-validation");
  const folds = foldsOf(fit.rows, options);
  const predicted = leftOut(fit, folds, { newBlocks: leave === "block" && fit.blocks !== null });
  const scatter = predictiveScatter(fit.rows, predicted, fit.weights);
  const { predictiveSd } = scatter;
  const { residualSd } = fit;
  const timesResidual =
    predictiveSd !== null && residualSd !== null && residualSd > 0 ? predictiveSd / residualSd : null;
  const single = leave === "run" && folds.count === fit.rows.length;
  const answer = {
    ...scatter,
    leave,
    parts: folds.count,
    seed: typeof leave === "number" ? seed : null,
    residualSd,
    timesResidual,
    timesExpected: single ? expected(fit) : null,
  };
  return { ...answer, sentence: inWords(fit, answer) };
}

/** √ of the mean of 1/(1 − leverage): the variance of an error of a run left out is σ²/(1 − leverage). */
function expected({ rows }: Fit): number | null {
  const free = rows.map(({ leverage }) => 1 - (leverage ?? 1)).filter((one) => one > 1e-9);
  return free.length === 0 ? null : Math.sqrt(free.reduce((sum, one) => sum + 1 / one, 0) / free.length);
}

function inWords(fit: Fit, told: Omit<CrossValidation, "sentence">): string {
  const { leave, parts, predictiveSd, residualSd, timesResidual, timesExpected, notPredicted } = told;
  const what =
    leave === "run"
      ? "each run in turn"
      : leave === "block"
        ? "each block in turn"
        : `the runs in ${parts} parts`;
  if (predictiveSd === null)
    return `Leaving out ${what}, no run can be predicted from the others: there are too few for this model.`;
  const one = leave === "block" ? `a run of a block yet to come` : "a run that the model has not seen";
  const start = `Leaving out ${what}, ${fit.response.name} of ${one} is missed by ${scatterText(fit, predictiveSd)} (root mean square)`;
  const beside =
    residualSd === null || timesResidual === null
      ? ""
      : `; the scatter about the model claims ${scatterText(fit, residualSd)}`;
  const due =
    timesResidual !== null && timesExpected !== null
      ? `, ${formatNumber(timesResidual, { digits: 2 })} times less, where ${formatNumber(timesExpected, { digits: 2 })} times is what so many terms on so few runs lead one to expect`
      : "";
  return `${start}${beside}${due}.${notPredictedText(notPredicted)}`;
}
