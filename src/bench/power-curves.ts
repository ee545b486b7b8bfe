import type { PowerCurve } from "../figure/index.ts";
import { judge, type JudgeOptions } from "../layout/index.ts";
import type { Run, TrialSpec } from "../trial/index.ts";

const mostTimes = 5;
const mostRuns = 600;
/** A figure tells four curves apart. */
const mostCurves = 4;

/**
 * The chance of seeing the stated effect, were the whole plan cut once, twice and so on: one curve for the terms that are
 * known equally well. Empty where the plan is too long for that to be a question.
 */
export function powerCurves(
  runs: readonly Run[],
  factors: TrialSpec["factors"],
  options: JudgeOptions,
): readonly PowerCurve[] {
  const times = Math.min(mostTimes, Math.floor(mostRuns / Math.max(runs.length, 1)));
  const judged = Array.from({ length: times }, (_, index) => {
    // Cut again, every set-up is made afresh: the same numbers would pass for the same set-ups.
    const repeated = Array.from({ length: index + 1 }, (_, again) =>
      runs.map((run) =>
        run.wholePlot === undefined ? run : { ...run, wholePlot: run.wholePlot + again * runs.length },
      ),
    ).flat();
    return { x: repeated.length, terms: judge(repeated, factors, options).terms };
  });
  const curves = new Map<string, { readonly labels: string[]; readonly points: PowerCurve["points"] }>();
  for (const [place, { label }] of (judged[0]?.terms ?? []).entries()) {
    const points = judged.flatMap(({ x, terms }) => {
      const power = terms[place]?.power;
      return power === null || power === undefined ? [] : [{ x, power }];
    });
    if (points.length < 2) continue;
    const key = points.map(({ power }) => power.toFixed(3)).join(" ");
    const same = curves.get(key);
    if (same) same.labels.push(label);
    else curves.set(key, { labels: [label], points });
  }
  const all = [...curves.values()];
  if (all.length > mostCurves) return [];
  return all.map(({ labels, points }) => ({ label: all.length === 1 ? "" : labels.join(", "), points }));
}
