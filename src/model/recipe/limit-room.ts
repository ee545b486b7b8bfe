import type { Setting, Trial } from "../../trial/index.ts";
import type { Fit } from "../fit.ts";
import { knownMultiple, quickMultiple } from "./bound-multiple.ts";
import { decisionOf } from "./decision.ts";
import type { JointRecipeOptions } from "./joint-recipe.ts";
import { dfFor } from "./point-evaluator.ts";
import type { ResponseLimit } from "./response-limit.ts";

/** How much room settings leave below a limit, in standard deviations of one run; below zero the limit is broken. */
export interface LimitRoom {
  /** On the response's own scale. */
  readonly estimate: number;
  /** With the assurance that was asked: at or above zero the limit is kept so surely. */
  readonly assured: number;
  /** By the estimates themselves. */
  readonly estimated: number;
  /** With as much assurance the other way: below zero the limit is broken so surely. */
  readonly hopeful: number;
}

/**
 * Room below (or above) several limits at any settings, for maps: one answer a fit, in the order of the fits. Factors left out stand in the middle, levels averaged.
 * To the search's own accuracy (2e-5 of the distance to the bound). Refused: what `jointRecipe` refuses.
 * Example: `limitRoom(trial, [fitOfRa]).at({ feed: 0.1 })[0].assured` is 1.4: the bound stands 1.4 standard deviations inside.
 */
export function limitRoom(
  trial: Trial,
  fits: readonly Fit[],
  options: Pick<JointRecipeOptions, "limits" | "at"> = {},
): {
  readonly limits: readonly ResponseLimit[];
  readonly at: (settings: Readonly<Record<string, Setting>>) => readonly LimitRoom[];
} {
  const { limits, evaluators } = decisionOf(trial, fits, {
    ...(options.limits === undefined ? {} : { limits: options.limits }),
    needsObjective: false,
  });
  const judges = limits.map((limit, k) => {
    const evaluator = evaluators[k];
    const assured = quickMultiple(limit, evaluator.dfVaries);
    const hopeful = quickMultiple({ ...limit, assurance: 1 - limit.assurance }, evaluator.dfVaries);
    const known = knownMultiple(limit);
    const sign = limit.side === "at-most" ? 1 : -1;
    const end = evaluator.logScale ? Math.log(limit.limit) : limit.limit;
    const sd = Math.max(evaluator.sd ?? 0, 1e-12 * Math.max(Math.abs(end), 1e-300));
    const out = new Float64Array(4);
    return (settings: Readonly<Record<string, Setting>>): LimitRoom => {
      const point = evaluator.centre();
      for (const [name, setting] of Object.entries(settings)) evaluator.set(point, name, setting);
      evaluator.evaluate(point, out);
      const [estimate, leverage] = out;
      const df = dfFor(limit.for, evaluator, out);
      const inside = (sign * (end - estimate)) / sd;
      return {
        estimate: evaluator.logScale ? Math.exp(estimate) : estimate,
        assured: inside - assured(leverage, df),
        estimated: inside - known,
        hopeful: inside - hopeful(leverage, df),
      };
    };
  });
  return { limits, at: (settings) => judges.map((judge) => judge(settings)) };
}
