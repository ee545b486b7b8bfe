import { listed } from "../../units/index.ts";
import { z } from "zod";
import type { Factor, Setting } from "../../trial/index.ts";
import { commonShape, MOST_RUNS, wholeNumber } from "../common-options.ts";
import { blocksOfReplicates, centreNotes, centreRuns, numbered } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import type { StandardLayout } from "../layout.ts";
import { combinations, levelsOf } from "../levels.ts";
import { dealtToWholePlots, type WholePlotRequest } from "../split-plot/deal-whole-plots.ts";
import { partOfRun, splittingMasks } from "../split-plot/splitting-masks.ts";
import { layOutRegular } from "../two-level/lay-out-regular.ts";

const schema = z.strictObject({
  kind: z.literal("factorial"),
  ...commonShape,
  /** How many levels a quantity gets that has no `levels` of its own: one number for all, or by name. */
  levels: z.union([wholeNumber(2, 50), z.record(z.string(), wholeNumber(2, 50))]).default(2),
  /** With factors that are hard to change: in how many whole plots (set-ups) the runs are cut; one a replicate and hard setting unless stated. */
  wholePlots: wholeNumber(1, 1000).optional(),
});

export const factorial = defineKind({
  kind: "factorial",
  summary: "Every combination of the levels of all factors: main effects and every interaction.",
  schema,
  layOut: (factors, options) => {
    refuseNoFactor(factors);
    const lists = factors.map((factor) => levelsOf(factor, levelCount(factors, factor, options.levels)));
    const size = lists.reduce((product, list) => product * list.length, 1);
    refuseTooManyRuns("factorial", size, options.replicates, fewerCombinations(lists));
    if (options.replicates % options.blocks !== 0 && lists.every((list) => list.length === 2)) {
      return dealtToWholePlots("factorial", factors, inSmallBlocks(factors, options), {
        wholePlots: options.wholePlots,
        ...whole,
      });
    }
    const blockOf = blocksOfReplicates("factorial", options.replicates, options.blocks);
    const rows = combinations(lists);
    const runs = blockOf.flatMap((block) =>
      rows.map((row) => ({
        block,
        role: row.every((setting, index) => isEnd(factors[index], setting))
          ? ("corner" as const)
          : ("level" as const),
        settings: Object.fromEntries(factors.map((factor, index) => [factor.name, row[index] ?? ""])),
      })),
    );
    const standard = {
      runs: numbered([...runs, ...centreRuns("factorial", factors, options.centrePoints, options.blocks)]),
      notes: centreNotes(factors, options.centrePoints),
    };
    return dealtToWholePlots("factorial", factors, standard, {
      wholePlots: options.wholePlots,
      ...halvingsOf(factors, lists),
    });
  },
});

/** What fits in place of combinations that are too many to cut even once. */
function fewerCombinations(lists: readonly (readonly Setting[])[]): string {
  const levels = lists[0]?.length ?? 2;
  const others = `${levels === 2 ? '"fraction"' : '"orthogonal-array"'} or "optimal" with more`;
  if (lists.some((list) => list.length !== levels))
    return `Take fewer factors or levels, or use "orthogonal-array" or "optimal".`;
  const most = Math.floor(Math.log(MOST_RUNS) / Math.log(levels) + 1e-9);
  return `Take at most ${most} factor${most === 1 ? "" : "s"} of ${levels} levels, or use ${others}.`;
}

type Halvings = Pick<WholePlotRequest, "halvings" | "partsOf">;

/** Whole plots that stay whole. */
const whole: Halvings = { halvings: 0, partsOf: () => () => 0 };

/** Whole plots can be halved where every easy factor has two levels: by products of as many of them as can be had. */
function halvingsOf(factors: readonly Factor[], lists: readonly (readonly Setting[])[]): Halvings {
  const easy = factors
    .map((factor, place) => ({ factor, list: lists[place] ?? [] }))
    .filter(({ factor }) => factor.change !== "hard");
  if (easy.some(({ list }) => list.length !== 2)) return whole;
  const masks = easy.map((_, place) => 1 << place);
  const design = { bits: easy.length, masks, signs: masks.map(() => 1 as const) };
  return {
    halvings: easy.length,
    partsOf: (count) => {
      const chosen = splittingMasks(
        easy.map(({ factor }) => factor),
        design,
        count,
      );
      return ({ settings }) =>
        partOfRun(
          chosen,
          easy.reduce(
            (run, { factor, list }, place) => run | (settings[factor.name] === list[1] ? 1 << place : 0),
            0,
          ),
        );
    },
  };
}

/** Two levels throughout: replicates can be cut into blocks that confound only effects of high order. */
function inSmallBlocks(factors: readonly Factor[], options: z.output<typeof schema>): StandardLayout {
  const masks = factors.map((_, place) => 1 << place);
  const design = { bits: factors.length, masks, signs: masks.map(() => 1 as const) };
  const { runs, notes } = layOutRegular("factorial", factors, design, { ...options, aliasOrder: 1 });
  return { runs, notes: notes.filter((note) => !/clear of/.test(note)) };
}

function refuseNoFactor(factors: readonly Factor[]): void {
  if (factors.length > 0) return;
  throw new LayoutError('layout "factorial": the trial has no factor. Add at least one to "factors".');
}

function levelCount(
  factors: readonly Factor[],
  factor: Factor,
  levels: number | Readonly<Record<string, number>>,
): number {
  if (typeof levels === "number") return levels;
  for (const name of Object.keys(levels)) {
    const named = factors.find((candidate) => candidate.name === name);
    if (!named) {
      throw new LayoutError(
        `layout.levels: "${name}" is not a factor of this trial. It has ${listed(factors.map((candidate) => candidate.name))}.`,
      );
    }
    if (named.kind === "category" || named.levels) {
      throw new LayoutError(
        `layout.levels: ${name} has levels of its own. Take "${name}" out of layout.levels.`,
      );
    }
  }
  return levels[factor.name] ?? 2;
}

function isEnd(factor: Factor | undefined, setting: Setting): boolean {
  return factor?.kind !== "quantity" || setting === factor.low || setting === factor.high;
}
