import { z } from "zod";
import type { Factor, Setting } from "../../trial/index.ts";
import { conference } from "../algebra/hadamard.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { numbered, type UnnumberedRun } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { settingAt } from "../levels.ts";
import { categorySigns } from "../screening/category-signs.ts";
import { leftOutLevels, twoLevelsOf } from "../two-level/two-levels.ts";

const schema = z.strictObject({
  kind: z.literal("definitive-screening"),
  ...commonShape,
  /** Runs beyond the fewest, for power: made as if there were half as many further factors. */
  extra: wholeNumber(0, 60).default(0),
  /** Centre runs; left out, one in each block (two where there are categories). */
  centrePoints: wholeNumber(0, 1000).optional(),
});

/** Largest conference matrix that is made. */
const MOST_COLUMNS = 66;

/**
 * Definitive screening (Jones and Nachtsheim, J. Quality Technology 43, 2011, 1–15) from conference matrices (Xiao, Lin and
 * Bai, J. Quality Technology 44, 2012, 2–8): each row with its mirror, and centre runs. Two-level categories stand at one
 * level where a quantity would stand at its middle, and at the other in the mirror (Jones and Nachtsheim, J. Quality
 * Technology 45, 2013, 121–129).
 */
export const definitiveScreening = defineKind({
  kind: "definitive-screening",
  summary:
    "Main effects clear of all products and squares, and curves seen, in little more than twice as many runs as factors.",
  schema,
  layOut: (factors, options) => {
    const size = orderFor(factors.length, options.extra);
    const matrix = conference(size) ?? [];
    const categories = factors.map((factor) => factor.kind === "category");
    const half = matrix.map((row) => row.slice(0, factors.length));
    const { rows, centre } = categorySigns(half, categories);
    const { blocks, replicates } = options;
    if (blocks > size / 2) {
      throw new LayoutError(
        `layout.blocks: ${size} pairs of runs can't fill ${blocks} blocks of at least two pairs. Take at most ${Math.floor(size / 2)}.`,
      );
    }
    refuseTooManyRuns("definitive-screening", 2 * size + 1, replicates);
    const pairs = rows.map((row, index) => ({ row, block: (index % blocks) + 1 }));
    const once = pairs.flatMap(({ row, block }): UnnumberedRun[] =>
      [row, row.map((value) => 0 - value)].map((values) => ({
        block,
        role: "edge",
        settings: settingsOf(factors, values),
      })),
    );
    const runs = Array.from({ length: replicates }, () => once).flat();
    const perBlock = categories.some(Boolean) ? 2 : 1;
    const { centrePoints: count = blocks * perBlock } = options;
    const middle = Array.from({ length: count }, (_, index): UnnumberedRun => ({
      block: (Math.floor(index / perBlock) % blocks) + 1,
      role: "centre",
      settings: settingsOf(factors, index % 2 === 0 ? centre : centre.map((value) => 0 - value)),
    }));
    return { runs: numbered([...runs, ...middle]), notes: notesOf(factors, size, options.extra) };
  },
});

/** The smallest order of a conference matrix with a column for each factor and half the extra runs. */
function orderFor(factors: number, extra: number): number {
  if (factors < 3) {
    throw new LayoutError(
      `layout "definitive-screening": ${factors} factor${factors === 1 ? "" : "s"}; it takes 3 or more. With fewer, use "central-composite".`,
    );
  }
  const wanted = factors + Math.ceil(extra / 2);
  for (let order = Math.max(4, wanted + (wanted % 2)); order <= MOST_COLUMNS; order += 2) {
    if (conference(order)) return order;
  }
  let most = MOST_COLUMNS;
  while (!conference(most)) most -= 2;
  throw new LayoutError(
    factors > most
      ? `layout "definitive-screening": ${factors} factors; it takes 3 to ${most}. With more, use "plackett-burman" first.`
      : `layout.extra: ${extra} extra runs beside ${factors} factors are more than this tool can lay out. Take at most ${2 * (most - factors)}.`,
  );
}

function settingsOf(factors: readonly Factor[], values: readonly number[]) {
  return Object.fromEntries(
    factors.map((factor, index) => [factor.name, settingOf(factor, values[index] ?? 0)]),
  );
}

function settingOf(factor: Factor, value: number): Setting {
  if (factor.kind === "quantity") return settingAt(factor, value);
  const [first, second] = twoLevelsOf("definitive-screening", factor);
  return value > 0 ? second : first;
}

function notesOf(factors: readonly Factor[], size: number, extra: number): readonly string[] {
  const fewest = 2 * (factors.length + (factors.length % 2)) + 1;
  const categories = factors.filter((factor) => factor.kind === "category");
  return [
    "Every main effect is clear of squares and of products of two factors; those lean on one another.",
    ...(categories.length > 0
      ? ["With categories, main effects lean on one another a little; the judgement says how much."]
      : []),
    ...(2 * size + 1 > fewest && extra === 0
      ? [
          `${2 * size + 1} runs in place of ${fewest}: no layout of that kind exists for ${factors.length} factors in fewer.`,
        ]
      : []),
    ...leftOutLevels(factors),
  ];
}
