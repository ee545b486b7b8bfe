import { boundMultiple, isQuickExact, multipleSlack, quickMultiple } from "./bound-multiple.ts";
import { dfPlaceOf, type PointEvaluator } from "./point-evaluator.ts";
import type { ResponseLimit } from "./response-limit.ts";

/** Says of a point whether one limit is kept there. */
export interface LimitJudge {
  readonly asked: ResponseLimit;
  readonly evaluator: PointEvaluator;
  /** Standard deviations of one row by which the bound lies within the limit; below zero where it breaks it, −Infinity outside what was cut. */
  readonly inside: (point: Float64Array) => number;
}

export interface JudgeOptions {
  /** Points that stand farther out than any run count as broken. Default true. */
  readonly withinCut?: boolean;
  /** In place of the promise's own multiple of the scatter, for what-if searches. */
  readonly multiple?: (leverage: number, df: number) => number;
}

/** A judge of one limit; decisions too near the limit for the quick multiple are made with the exact one. */
export function limitJudge(
  asked: ResponseLimit,
  evaluator: PointEvaluator,
  options: JudgeOptions = {},
): LimitJudge {
  const { withinCut = true, multiple } = options;
  const sd = evaluator.sd!;
  const limit = evaluator.logScale ? Math.log(asked.limit) : asked.limit;
  const sign = asked.side === "at-most" ? 1 : -1;
  const quick = multiple ?? quickMultiple(asked, evaluator.dfVaries);
  const isExact = multiple !== undefined || isQuickExact(asked, evaluator.dfVaries);
  const dfPlace = dfPlaceOf(asked.for);
  const reach = evaluator.farthest * (1 + 1e-6);
  const out = new Float64Array(4);
  // Estimates that meet the limit to rounding, as where no scatter is left, meet it.
  const slack = 1e-12 * Math.max(Math.abs(limit), 1e-300);
  return {
    asked,
    evaluator,
    inside: (point) => {
      evaluator.evaluate(point, out);
      if (withinCut && out[1] > reach) return -Infinity;
      const distance = sign * (limit - out[0]);
      const clear = Math.abs(distance) <= slack ? 0 : distance;
      if (sd === 0) return clear >= 0 ? (clear === 0 ? 0 : Infinity) : -Infinity;
      const df = dfPlace === null ? evaluator.df : out[dfPlace];
      const k = quick(out[1], df);
      const gap = clear / sd - k;
      if (isExact || Math.abs(gap) > multipleSlack * k) return gap;
      return clear / sd - boundMultiple(asked, out[1], df);
    },
  };
}
