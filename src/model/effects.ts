import { tTwoSided } from "../numerics/index.ts";
import type { Setting } from "../trial/index.ts";
import { combined, pointAt } from "./at-point.ts";
import type { Source } from "./design.ts";
import { effectSentence } from "./effect-sentence.ts";
import type { EffectContext } from "./effect-sentence.ts";
import type { Effect, Uncertain } from "./fit.ts";
import { jointTest, judged } from "./judged.ts";
import type { ObservedFactor } from "./observations.ts";
import type { Solved } from "./solved.ts";
import { interval, withReason } from "./words.ts";

/** The effect of each factor of the model from low to high, or of each level against the first, the other factors in their middle. */
export function effectsOf(solved: Solved, context: EffectContext): readonly Effect[] {
  return solved.design.factors.flatMap((factor) => {
    const sources = solved.design.sources.filter(
      ({ role, term }) => role === "term" && Object.hasOwn(term, factor.name),
    );
    if (sources.length === 0) return [];
    const steps: readonly [Setting, Setting][] =
      factor.kind === "quantity"
        ? [[factor.low, factor.high]]
        : factor.levels.slice(1).map((level): [Setting, Setting] => [factor.levels[0], level]);
    return steps.map(([from, to]) => oneEffect(solved, context, factor, sources, from, to));
  });
}

function oneEffect(
  solved: Solved,
  context: EffectContext,
  factor: ObservedFactor,
  sources: readonly Source[],
  from: Setting,
  to: Setting,
): Effect {
  const { solution, logScale } = solved;
  const lower = pointAt(solved, { [factor.name]: from }, { rest: "average" });
  const upper = pointAt(solved, { [factor.name]: to }, { rest: "average" });
  const step = upper.map((value, k) => value - lower[k]);
  const moved = solution.kept.some((column) => step[column] !== 0);
  const { estimate, cross, estimable } = combined(solved, step);
  const how = moved ? judged(solved, step, { cross }) : null;
  const as = logScale ? "ratio" : "difference";
  const told = (value: number): number => (logScale ? Math.exp(value) : value);
  let value: Uncertain;
  let p: number | null = null;
  if (!moved) {
    const set = context.inseparable.find(({ labels }) => labels.includes(factor.name));
    value = withReason(null, set?.text ?? `${factor.name} can't be told from these runs`);
  } else if (how === null) {
    value = withReason(told(estimate), context.noInterval);
  } else {
    const { standardError: error, df } = how;
    const half = how.reach * error;
    value = interval(told(estimate), told(estimate - half), told(estimate + half), solved.confidence);
    p = error > 0 ? tTwoSided(estimate / error, df) : null;
  }
  // A factor with one column in the model has nothing else to take together.
  const alone = sources.length === 1 && sources[0].columns.length === 1;
  const effect = {
    factor: factor.name,
    from,
    to,
    as,
    value,
    p,
    pAll: alone ? p : jointP(solved, sources),
  } as const;
  return {
    ...effect,
    get sentence() {
      return effectSentence(effect, { solved, factor, sources, context, estimable: moved && estimable });
    },
  };
}

/** F test of all columns that a factor has a part in. */
function jointP(solved: Solved, sources: readonly Source[]): number | null {
  const columns = new Set(sources.flatMap((source) => source.columns));
  const positions = solved.solution.kept.flatMap((column, k) => (columns.has(column) ? [k] : []));
  return jointTest(solved, positions)?.p ?? null;
}
