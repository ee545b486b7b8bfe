import type { Factor, Settings } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import type { DesignPlan } from "./design-state.ts";
import { LayoutError } from "../error.ts";
import { keptPlots } from "./kept-runs.ts";
import type { OptimalOptions } from "./options.ts";
import type { SearchModel } from "./search-model.ts";
import { plotPlan, type PlotPlan } from "./whole-plots.ts";

/** What is stated about whole plots where nothing better is known. */
const USUAL_RATIO = 1;

/** Runs, blocks and whole plots of an optimal layout; refuses what doesn't go round. */
export function designPlan(
  model: SearchModel,
  runs: number,
  keep: readonly Settings[],
  options: OptimalOptions,
): { readonly plan: DesignPlan; readonly varianceRatio: number } {
  const hard = model.factors.filter((factor) => factor.change === "hard");
  const { varianceRatio = USUAL_RATIO } = options;
  refuseWithoutHard(hard, options);
  const free = runs - keep.length;
  const firstBlock = keep.length > 0 && options.blocks > 1 ? 1 : 0;
  const freeBlocks = options.blocks - firstBlock;
  if (hard.length === 0) {
    const blockOf = Int32Array.from({ length: runs }, (_, run) =>
      run < keep.length ? 0 : firstBlock + ((run - keep.length) % freeBlocks),
    );
    return { plan: { runs, fixed: keep.length, blockOf, criterion: options.criterion }, varianceRatio };
  }
  const count = options.wholePlots ?? usualPlots(model, hard, free, freeBlocks);
  const kept = keptPlots(hard, keep);
  const firstFree = Math.max(-1, ...kept) + 1;
  refusePlots(count, free, freeBlocks, hard);
  refuseTooFewPlots(count, firstFree, wholePlotColumns(model, hard), hard);
  const own = Array.from({ length: free }, (_, run) => Math.floor((run * count) / free));
  const plots: PlotPlan = plotPlan([...kept, ...own.map((plot) => firstFree + plot)], {
    firstFree,
    hard: model.factors.map((factor) => factor.change === "hard"),
    varianceRatio,
  });
  const blockOf = Int32Array.from([
    ...kept.map(() => 0),
    ...own.map((plot) => firstBlock + Math.floor((plot * freeBlocks) / count)),
  ]);
  return {
    plan: { runs, fixed: keep.length, blockOf, plots, criterion: options.criterion },
    varianceRatio,
  };
}

function refuseWithoutHard(hard: readonly Factor[], options: OptimalOptions): void {
  if (hard.length > 0) return;
  for (const name of ["wholePlots", "varianceRatio"] as const) {
    if (options[name] === undefined) continue;
    throw new LayoutError(
      `layout.${name}: no factor is hard to change, so every run is set up afresh. Say "change": "hard" at a factor, or leave "${name}" out.`,
    );
  }
}

/** Four more than what stands between whole plots alone (mean, blocks, terms in hard factors), with two runs or more in each. */
function usualPlots(model: SearchModel, hard: readonly Factor[], free: number, blocks: number): number {
  const between = wholePlotColumns(model, hard);
  const most = Math.max(2, Math.floor(free / 2));
  const count = Math.min(most, between + 4);
  return Math.max(
    blocks,
    Math.ceil(count / blocks) * blocks <= most ? Math.ceil(count / blocks) * blocks : count,
  );
}

/** Columns that do not change within a whole plot. */
export function wholePlotColumns(model: SearchModel, hard: readonly Factor[]): number {
  const easySlots = model.axes.flatMap((axis, place) =>
    hard.includes(axis.factor)
      ? []
      : Array.from({ length: axis.functionCount }, (_, m) => (model.firstSlot[place] ?? 0) + m),
  );
  return Array.from({ length: model.columnCount }, (_, column) => column).filter(
    (column) =>
      model.prior[column] === 0 &&
      model.slots
        .subarray(model.slotsFrom[column], model.slotsFrom[column + 1])
        .every((slot) => !easySlots.includes(slot)),
  ).length;
}

function refusePlots(count: number, free: number, blocks: number, hard: readonly Factor[]): void {
  const names = listed(hard.map((factor) => factor.name));
  if (count > free) {
    throw new LayoutError(
      `layout.wholePlots: ${count} settings of ${names} can't be had with ${free} runs. Take at most ${free}.`,
    );
  }
  if (count < blocks) {
    throw new LayoutError(
      `layout.wholePlots: ${count} set-ups can't be dealt to ${blocks} blocks, for a block begins with a setting of ${names}. Take at least ${blocks}.`,
    );
  }
}

function refuseTooFewPlots(count: number, kept: number, columns: number, hard: readonly Factor[]): void {
  if (count + kept >= columns) return;
  const names = listed(hard.map((factor) => factor.name));
  throw new LayoutError(
    `layout.wholePlots: ${columns} terms that stand between settings of ${names} (the mean among them) can't be told by ${count + kept} set-ups. Take at least ${columns - kept}, better ${columns - kept + 4}.`,
  );
}
