import { listed } from "../units/index.ts";
import { combined, pointAt } from "./at-point.ts";
import { modelError } from "./error.ts";
import type { Uncertain } from "./fit.ts";
import { judged } from "./judged.ts";
import type { Solved } from "./solved.ts";
import { interval, withReason } from "./words.ts";

/**
 * How multiplying one factor by a number multiplies the response in a power law, with its interval: multiplier to the power of the
 * exponent. Categories that change the exponent are evenly weighted. Elsewhere the answer hangs on where one starts, and the reason says so.
 */
export function ratioOf(
  solved: Solved,
  noInterval: string,
): (factor: string, multiplier: number) => Uncertain {
  return (name, multiplier) => {
    const { design, solution } = solved;
    const names = design.factors.map((factor) => factor.name);
    const factor = design.factors.find((one) => one.name === name);
    if (factor === undefined)
      throw modelError(`the unknown factor "${name}"`, `one of ${listed(names, "or")}`);
    if (!(multiplier > 0 && Number.isFinite(multiplier)))
      throw modelError(`the multiplier ${multiplier}`, "a number above zero, 0.5 for halving");
    if (factor.kind === "category") return withReason(null, `${name} is a category and can't be multiplied`);
    const elementary = design.elementaries.find((one) => one.name === name && one.level === undefined)!;
    if (!elementary.logarithm) {
      return withReason(
        null,
        `in this model the ratio hangs on where ${name} starts; fit a power law for one ratio`,
      );
    }
    const own = design.sources.filter(({ term }) => Object.hasOwn(term, name));
    if (own.some(({ term }) => term[name] > 1))
      return withReason(null, `the exponent of ${name} changes along its range in this model`);
    const start = pointAt(solved, { [name]: factor.low }, { rest: "average" });
    const end = pointAt(solved, { [name]: factor.low * multiplier }, { rest: "average" });
    const step = end.map((value, k) => value - start[k]);
    if (!solution.kept.some((column) => step[column] !== 0) && multiplier !== 1)
      return withReason(null, `the exponent of ${name} can't be told from these runs`);
    const { estimate, cross, estimable } = combined(solved, step);
    if (!estimable)
      return withReason(Math.exp(estimate), `other terms moved along with ${name} in these runs`);
    const how = judged(solved, step, { cross });
    if (how === null) return withReason(Math.exp(estimate), noInterval);
    const half = how.reach * how.standardError;
    return interval(
      Math.exp(estimate),
      Math.exp(estimate - half),
      Math.exp(estimate + half),
      solved.confidence,
    );
  };
}
