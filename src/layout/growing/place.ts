import type { Run, RunRole, Settings } from "../../trial/index.ts";
import { numbered, type UnnumberedRun } from "../deal.ts";
import { settingsKey, settingWords } from "../levels.ts";
import { listed } from "../../units/index.ts";
import { orderRuns } from "../order/order-runs.ts";
import { rounded } from "../rounded.ts";
import type { Cut, Wanted } from "./growth.ts";
import type { How } from "./how.ts";

/** The added runs in cutting order, with the rules that the order obeys. */
export interface Placed {
  readonly runs: readonly Run[];
  readonly block: number;
  readonly rules: readonly string[];
  readonly notes: readonly string[];
}

/**
 * Gives an addition its place: settings on the machine's steps, numbers on from what was cut, one block, and an order of its
 * own. Common runs are spread evenly over the block, so that they show drift as well as the step from block to block.
 */
export function placed(cut: Cut, wanted: Wanted, how: How): Placed {
  const last = Math.max(...cut.planned.map((run) => run.block));
  const block = how.block === "new" ? last + 1 : last;
  const tie = tieRuns(cut, how.tie, block);
  const own = wanted.runs.map(({ role, settings }): UnnumberedRun => ({ block, role, settings }));
  const standard = rounded(cut.factors, { runs: numbered([...own, ...tie.runs]), notes: [] });
  const roles = new Map(standard.runs.map((run) => [run.standard, run.role]));
  // Common runs are spread evenly as centre runs are, whatever they are called.
  const spread = standard.runs.map((run, index) =>
    index >= own.length ? { ...run, role: "centre" as const } : run,
  );
  const { runs, rules } = orderRuns(cut.factors, { ...standard, runs: spread }, how);
  const from = cut.planned.length;
  const standardFrom = Math.max(...cut.planned.map((run) => run.standard));
  return {
    block,
    runs: runs.map((run, index) => ({
      ...run,
      run: from + index + 1,
      standard: standardFrom + run.standard,
      role: roles.get(run.standard) ?? run.role,
    })),
    rules: [
      ...rules.filter((rule) => !/^The .*centre run/.test(rule)),
      ...spreadRules(spread.filter(({ role }) => role === "centre").length),
      how.block === "new"
        ? `The added runs are block ${block}: what changed since the first runs (day, edge, warm machine) has a level of its own in the analysis and is not taken for an effect.`
        : `The added runs stand in block ${block} with those before: cut them on at once, with edge and set-up as they are.`,
    ],
    notes: [...standard.notes, ...tie.notes],
  };
}

function spreadRules(count: number): readonly string[] {
  if (count === 0) return [];
  return [
    count === 1
      ? "The run at the middle or common setting stands in the middle of the addition."
      : `The ${count} runs at the middle or common setting are spread evenly over the addition, so that they show drift.`,
  ];
}

/** Runs that were cut before and are cut again, so that the step from block to block is measured. */
function tieRuns(
  cut: Cut,
  count: number,
  block: number,
): { readonly runs: readonly UnnumberedRun[]; readonly notes: readonly string[] } {
  if (count === 0) return { runs: [], notes: [] };
  const common = commonRun(cut);
  const at = cut.factors.map(
    (factor) => `${factor.name} ${settingWords(factor, common.settings[factor.name] ?? "")}`,
  );
  return {
    runs: Array.from({ length: count }, () => ({ block, ...common })),
    notes: [
      `${count === 1 ? "One run" : `${count} runs`} at ${listed(at)}, cut before, ${count === 1 ? "ties" : "tie"} the new block to the first.`,
    ],
  };
}

/** The setting that was cut most often: centre runs first, then anchors, then any. */
function commonRun(cut: Cut): { readonly role: RunRole; readonly settings: Settings } {
  for (const role of ["centre", "anchor"] as const) {
    const found = cut.planned.find((run) => run.role === role);
    if (found) return { role, settings: found.settings };
  }
  const counts = new Map<string, number>();
  for (const { settings } of cut.planned) {
    const key = settingsKey(cut.factors, settings);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const most = Math.max(...counts.values());
  const run = cut.planned.find(({ settings }) => counts.get(settingsKey(cut.factors, settings)) === most);
  return { role: "anchor", settings: run?.settings ?? {} };
}
