import {
  passConditionsOf,
  SPEED_SLACK,
  speedLimits,
  type PassConditions,
  type SpeedLimit,
} from "../../cutting/index.ts";
import type { Run, TrialSpec } from "../../trial/index.ts";
import { convert, formatNumber, formatQuantity, quantity, unitIn, type UnitName } from "../../units/index.ts";
import { LimitError, type LimitFinding } from "../error.ts";
import { orderOptionsOf } from "./edges.ts";
import { heldDepthMm, planCost, type BudgetEnd } from "./plan-cost.ts";

/** What a check of limits could not look at. */
export interface LimitCheck {
  /** One sentence each: the limit, and what to state so that it can be checked. */
  readonly unchecked: readonly string[];
}

/**
 * Refuses a plan that asks more than the trial states to be at hand: spindle and cutter speed, feed speed, passes, minutes,
 * stock, edges.
 *
 * Use it before a plan is written. Throws a `LimitError` with every finding: each names the first run that passes the limit
 * and the change that mends it. Returns what could not be checked because the trial does not state enough.
 */
export function checkLimits(spec: TrialSpec, runs: readonly Run[]): LimitCheck {
  const conditions = passConditionsOf(spec);
  const passes = runs.map((run) => ({ run, pass: conditions(run.settings) }));
  const limits = speedLimits(spec);
  const findings = [
    ...limits.flatMap((limit) => overLimit(spec, limit, passes)),
    ...planCost(spec, runs).ends.map((end) => budgetFinding(spec, end, runs)),
  ];
  if (findings.length > 0) throw new LimitError(findings);
  return {
    unchecked: limits.flatMap((limit) =>
      passes.some(({ pass }) => limit.of(pass) === null)
        ? [`The ${limit.words} of ${limit.text} could not be checked: ${wants(limit, passes[0]?.pass)}`]
        : [],
    ),
  };
}

function wants({ field }: SpeedLimit, pass: PassConditions | undefined): string {
  return pass?.missing.find(({ what }) => what === field)?.why ?? "no run states it.";
}

function overLimit(
  spec: TrialSpec,
  limit: SpeedLimit,
  passes: readonly { readonly run: Run; readonly pass: PassConditions }[],
): readonly LimitFinding[] {
  const over = passes.filter(({ pass }) => (limit.of(pass) ?? 0) > limit.most * (1 + SPEED_SLACK));
  const first = over[0];
  if (!first) return [];
  const value = shown(spec, limit.of(first.pass) ?? 0, limit.unit);
  const from =
    limit.limit === "feed speed" &&
    first.pass.feedMmPerRev !== null &&
    first.pass.spindleSpeedRevPerMin !== null
      ? ` (${shown(spec, first.pass.feedMmPerRev, "mm/rev")} at ${shown(spec, first.pass.spindleSpeedRevPerMin, "rev/min")})`
      : "";
  const more =
    over.length > 1
      ? ` So ${over.length === 2 ? "does" : "do"} ${over.length - 1} more run${over.length === 2 ? "" : "s"}.`
      : "";
  return [
    {
      limit: limit.limit,
      run: first.run.run,
      text: `Run ${first.run.run} asks for ${value}${from}, above the ${limit.words} of ${limit.text}.${more} ${limit.mend}, so that no run passes ${shown(spec, limit.most, limit.unit)}.`,
    },
  ];
}

function shown(spec: TrialSpec, value: number, unit: UnitName): string {
  const own = unitIn(unit, spec.display);
  // Four figures, without the zeros that say nothing.
  return formatQuantity(quantity(Number(convert(value, unit, own).toPrecision(4)), own));
}

function budgetFinding(spec: TrialSpec, end: BudgetEnd, runs: readonly Run[]): LimitFinding {
  return { limit: end.budget, run: end.run, text: budgetText(spec, end, runs) };
}

function budgetText(spec: TrialSpec, end: BudgetEnd, runs: readonly Run[]): string {
  const { run, atHand, wanted } = end;
  switch (end.budget) {
    case "passes":
      return `Run ${run} is one pass too many: the plan has ${runs.length} runs${wanted > runs.length ? `, ${wanted - runs.length} passes of warming up before them,` : ""} and ${atHand} passes are at hand. Leave out ${wanted - atHand}: fewer replicates, levels or centre points.`;
    case "minutes":
      return `The ${atHand} minutes at hand end in run ${run}: the plan takes ${formatNumber(wanted, { digits: 3 })} minutes. Leave out the runs from ${run} on, or shorten the pass.`;
    case "stock": {
      const depth = heldDepthMm(spec);
      const each = depth === undefined ? "" : ` (${runs.length} passes of ${shown(spec, depth, "mm")})`;
      return `The stock of ${spec.budget?.stock ?? ""} ends in run ${run}: the plan takes ${shown(spec, wanted, "mm")}${each}. Cut at most ${run - 1} runs, or take less depth.`;
    }
    case "edges":
      return `Run ${run} needs edge ${atHand + 1} and ${atHand} ${atHand === 1 ? "is" : "are"} at hand: the plan takes ${wanted}, ${statesEdges(spec) ? "a fresh one wherever one is used up" : "a fresh one for each block"} and each edge that is compared. Take fewer ${statesEdges(spec) ? "runs" : "blocks"}.`;
  }
}

function statesEdges(spec: TrialSpec): boolean {
  return orderOptionsOf(spec).borders?.edge !== undefined;
}
