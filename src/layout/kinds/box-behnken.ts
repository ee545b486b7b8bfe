import { z } from "zod";
import type { Factor, QuantityFactor } from "../../trial/index.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { numbered, type UnnumberedRun } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { categoryCombinations, combinations, quantitiesOf, settingAt } from "../levels.ts";
import { boxBehnkenTables, type BoxBehnkenTable } from "../surface/box-behnken-table.ts";
import { leftOutLevels } from "../two-level/two-levels.ts";

const schema = z.strictObject({
  kind: z.literal("box-behnken"),
  ...commonShape,
  /** Centre runs in all, dealt to the blocks in turn; left out, as many as published (3 for three factors, 6 for five). */
  centrePoints: wholeNumber(0, 1000).optional(),
});

/** Sets of five factors take the half of their corners whose product is +1: 16 of 32. */
const WHOLE_SET = 4;

export const boxBehnken = defineKind({
  kind: "box-behnken",
  summary:
    "A full curved surface on three levels without any run at a corner, where all factors would be extreme at once.",
  schema,
  layOut: (factors, options) => {
    const quantities = quantitiesOf(factors);
    const table = tableFor(quantities.length);
    const { blocks, replicates, centrePoints = Math.max(table.centrePoints, blocks) } = options;
    const rows = blockedRows(quantities.length, table, blocks, replicates);
    const categories = categoryCombinations(factors);
    refuseTooManyRuns("box-behnken", (rows.length + centrePoints) * categories.length, replicates);
    const byReplicate = blocks > 1 && replicates % blocks === 0;
    const cut = Array.from({ length: replicates }, (_, replicate) =>
      rows.map(({ row, block }) => ({
        row,
        block: byReplicate ? Math.floor((replicate * blocks) / replicates) + 1 : block,
        role: "edge" as const,
      })),
    ).flat();
    const centre = Array.from({ length: centrePoints }, (_, index) => ({
      row: quantities.map(() => 0),
      block: (index % blocks) + 1,
      role: "centre" as const,
    }));
    const runs = [...cut, ...centre].flatMap(({ row, block, role }): UnnumberedRun[] =>
      categories.map((named) => ({ block, role, settings: settingsOf(factors, quantities, row, named) })),
    );
    return {
      runs: numbered(runs),
      notes: [
        `Sets of factors: ${table.source}.`,
        ...(categories.length > 1
          ? [`Cut whole at each of the ${categories.length} combinations of categories.`]
          : []),
        ...leftOutLevels(quantities.filter((factor) => (factor.levels?.length ?? 0) !== 3)),
      ],
    };
  },
});

function tableFor(count: number): BoxBehnkenTable {
  const table = boxBehnkenTables[count];
  if (table) return table;
  if (count === 0) {
    throw new LayoutError(
      'layout "box-behnken": categories have no curve; it takes 3 to 12 quantities. For categories alone use "factorial".',
    );
  }
  throw new LayoutError(
    `layout "box-behnken": ${count} quantit${count === 1 ? "y" : "ies"}; it takes 3 to 12. ${count < 3 ? 'With fewer, use "central-composite".' : 'With more, use "definitive-screening" first.'}`,
  );
}

function blockedRows(
  factors: number,
  table: BoxBehnkenTable,
  blocks: number,
  replicates: number,
): readonly { readonly row: readonly number[]; readonly block: number }[] {
  const parts = table.parts?.length;
  const ownBlocks = parts ?? (table.byProduct ? 2 : 1);
  if (blocks !== 1 && blocks !== ownBlocks && replicates % blocks !== 0) {
    throw new LayoutError(
      `layout.blocks: a Box–Behnken layout of ${factors} factors can't be cut into ${blocks} blocks that leave its effects alone. Take ${ownBlocks > 1 ? `${ownBlocks} or ` : ""}1, or as many replicates as blocks.`,
    );
  }
  const small = blocks > 1 && blocks === ownBlocks && replicates % blocks !== 0;
  return table.sets.flatMap((set, index) =>
    combinations(set.map(() => [-1, 1]))
      .filter((signs) => set.length <= WHOLE_SET || product(signs) > 0)
      .map((signs) => {
        const row = new Array<number>(factors).fill(0);
        set.forEach((factor, place) => (row[factor] = signs[place] ?? 0));
        const part = table.parts
          ? table.parts.findIndex((own) => own.includes(index))
          : product(signs) > 0
            ? 1
            : 0;
        return { row, block: small ? part + 1 : 1 };
      }),
  );
}

function product(signs: readonly number[]): number {
  return signs.reduce((all, sign) => all * sign, 1);
}

function settingsOf(
  factors: readonly Factor[],
  quantities: readonly QuantityFactor[],
  row: readonly number[],
  named: Readonly<Record<string, string | number>>,
) {
  return Object.fromEntries(
    factors.map((factor) => [
      factor.name,
      factor.kind === "quantity"
        ? settingAt(factor, row[quantities.indexOf(factor)] ?? 0)
        : (named[factor.name] ?? ""),
    ]),
  );
}
