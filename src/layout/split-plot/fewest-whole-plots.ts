import { differenceUnit, listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { figures } from "../judge/figures.ts";
import { judge, type JudgeOptions } from "../judge/judge.ts";
import { layOut, type LayoutRequest } from "../lay-out.ts";
import type { Layout } from "../layout.ts";

export interface WholePlotWish extends Pick<
  JudgeOptions,
  "model" | "terms" | "confidence" | "varianceRatio" | "unit"
> {
  /** The guess of the standard deviation between runs of one set-up, in the response's unit. */
  readonly sigma: number;
  /** How well each hard factor's effect (low to high) is to be known: ± this, in the response's unit. */
  readonly halfWidth: number;
}

/** One way to cut the trial, with what it tells of the hard factors. */
export interface WholePlotPlan {
  /** Hard changes: set-ups in all. */
  readonly wholePlots: number;
  readonly replicates: number;
  readonly runs: number;
  /** Of the hard factor that is known worst; null where no degree of freedom is left between set-ups. */
  readonly halfWidth: number | null;
  readonly df: number | null;
}

export interface WholePlotProposal {
  /** The fewest set-ups that reach the wish, and among those the fewest runs; null where none looked at does. */
  readonly plan: WholePlotPlan | null;
  /** All plans looked at, by set-ups and runs. */
  readonly plans: readonly WholePlotPlan[];
  readonly text: string;
}

/** Replicates and halvings are tried up to so many runs. */
const MOST_RUNS = 512;
const MOST_REPLICATES = 16;

/**
 * The fewest whole plots (set-ups of the factors that are hard to change) by which the hard factors' effects are known to a wanted
 * half-width.
 *
 * Use it to plan a factorial or a fraction with hard factors. `request` is a trial's factors and layout; its `replicates` and
 * `wholePlots` are what is looked for, all else stays. The guess of σ is that of runs on one set-up; `varianceRatio` is the
 * variance between set-ups over it, 1 unless stated. Every plan is laid out and judged (`judge`), so that degrees of freedom count:
 * few set-ups leave a wide t. Refuses another kind of layout, a trial without hard factors, and a half-width that is not above zero.
 *
 * Example: one hard and one easy factor of two levels, σ = 1, ratio 1, ± 3: 6 set-ups of 2 runs, as ± t(0.975, 4)·√(4/6·1.5) = ± 2.78.
 */
export function fewestWholePlots(request: LayoutRequest, wish: WholePlotWish): WholePlotProposal {
  const { halfWidth, unit = "" } = wish;
  const hard = request.factors.filter(({ change }) => change === "hard");
  refuseWish(request, hard, halfWidth);
  const plans: WholePlotPlan[] = [];
  for (let replicates = 1; replicates <= MOST_REPLICATES; replicates += 1) {
    const first = laidOut(request, { replicates });
    if (replicates > 1 && first.runs.length > MOST_RUNS) break;
    for (let layout: Layout | null = first; layout;) {
      const plan = judged(layout, replicates, request.factors, hard, wish);
      plans.push(plan);
      // Halving goes on as long as the kind can cut the whole plots in two.
      layout = plan.wholePlots * 2 <= plan.runs ? halved(request, replicates, plan.wholePlots * 2) : null;
    }
  }
  const ranked = plans.sort((one, other) => one.wholePlots - other.wholePlots || one.runs - other.runs);
  const plan = ranked.find((one) => one.halfWidth !== null && one.halfWidth <= halfWidth) ?? null;
  const withUnit = (value: number) => figures(value) + (unit ? ` ${differenceUnit(unit)}` : "");
  return { plan, plans: ranked, text: textOf(plan, ranked, hard, halfWidth, withUnit) };
}

function refuseWish(request: LayoutRequest, hard: readonly Factor[], halfWidth: number): void {
  const { kind } = request.layout;
  if (kind !== "factorial" && kind !== "fraction") {
    throw new LayoutError(
      `whole plots: they are proposed for "factorial" and "fraction", not for "${kind}". Take one of those.`,
    );
  }
  if (hard.length === 0) {
    throw new LayoutError(
      'whole plots: no factor is hard to change, so every run is a set-up of its own. Mark one with "change": "hard".',
    );
  }
  if (!(halfWidth > 0 && Number.isFinite(halfWidth))) {
    throw new LayoutError(
      `whole plots: the wanted half-width is ${halfWidth}; expected a number above zero.`,
    );
  }
}

function laidOut(request: LayoutRequest, more: Readonly<Record<string, number>>): Layout {
  // Listed order: the plans are compared, not cut, and no order needs to be searched.
  const own = Object.entries(request.layout).filter(([name]) => name !== "wholePlots");
  const layout = { ...Object.fromEntries(own), kind: request.layout.kind, ...more, order: "as-listed" };
  return layOut({ ...request, layout });
}

function halved(request: LayoutRequest, replicates: number, wholePlots: number): Layout | null {
  try {
    return laidOut(request, { replicates, wholePlots });
  } catch (error) {
    if (error instanceof LayoutError) return null;
    throw error;
  }
}

function judged(
  layout: Layout,
  replicates: number,
  factors: readonly Factor[],
  hard: readonly Factor[],
  wish: WholePlotWish,
): WholePlotPlan {
  const names = new Set(hard.map(({ name }) => name));
  const mains = judge(layout.runs, factors, { ...wish, omitted: [] }).terms.filter(({ term }) => {
    const [key, ...more] = Object.keys(term);
    return more.length === 0 && key !== undefined && names.has(key.split("=")[0] ?? "");
  });
  const worst = mains.reduce((most, term) =>
    (term.halfWidth ?? Infinity) > (most.halfWidth ?? Infinity) ? term : most,
  );
  const known = mains.every(({ halfWidth }) => halfWidth !== null);
  return {
    wholePlots: new Set(layout.runs.map((run) => run.wholePlot)).size,
    replicates,
    runs: layout.runs.length,
    halfWidth: known ? worst.halfWidth : null,
    df: known ? worst.df : null,
  };
}

function textOf(
  plan: WholePlotPlan | null,
  plans: readonly WholePlotPlan[],
  hard: readonly Factor[],
  halfWidth: number,
  withUnit: (value: number) => string,
): string {
  const names = listed(hard.map(({ name }) => name));
  if (plan) {
    return `${plan.wholePlots} set-ups for ${plan.runs} runs are the fewest by which ${names} will be known to ± ${withUnit(halfWidth)} or better: ± ${withUnit(plan.halfWidth ?? 0)}.`;
  }
  const best = plans.reduce<WholePlotPlan | null>(
    (least, one) => ((one.halfWidth ?? Infinity) < (least?.halfWidth ?? Infinity) ? one : least),
    null,
  );
  return best === null
    ? `No plan of up to ${MOST_RUNS} runs leaves a degree of freedom between set-ups of ${names}: ask for fewer terms.`
    : `± ${withUnit(halfWidth)} for ${names} can't be had with up to ${MOST_RUNS} runs; ± ${withUnit(best.halfWidth ?? 0)} can, with ${best.wholePlots} set-ups for ${best.runs} runs. Ask for that, or make set-ups scatter less.`;
}
