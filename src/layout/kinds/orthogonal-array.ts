import { listed } from "../../units/index.ts";
import { z } from "zod";
import type { Factor } from "../../trial/index.ts";
import { assignClear } from "../arrays/assign.ts";
import { isBalanced } from "../arrays/balanced.ts";
import { arrayPlans, type ArrayPlan } from "../arrays/catalogue.ts";
import type { ArrayColumns } from "../arrays/linear-array.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { blocksOfReplicates, centreNotes, centreRuns, numbered } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { levelsOf } from "../levels.ts";

const schema = z.strictObject({
  kind: z.literal("orthogonal-array"),
  ...commonShape,
  /** Left out, the fewest that hold the factors and keep the interactions clear. */
  runs: wholeNumber(4, 81).optional(),
  /** How many levels a quantity gets that has no `levels` of its own. */
  levels: wholeNumber(2, 27).default(2),
  /** Pairs of factors whose interaction must fall on no factor and on no other of these. */
  interactions: z.array(z.tuple([z.string(), z.string()])).default([]),
});

export const orthogonalArray = defineKind({
  kind: "orthogonal-array",
  summary:
    "Factors of two to nine levels, mixed, every pair of levels equally often: main effects in few runs.",
  schema,
  layOut: (factors, options) => {
    if (factors.length < 2) {
      throw new LayoutError(
        `layout "orthogonal-array": ${factors.length} factor; it takes two or more. With one, use "sweep".`,
      );
    }
    const lists = factors.map((factor) => levelsOf(factor, options.levels));
    const counts = lists.map((list) => list.length);
    const pairs = options.interactions.map(
      (pair) => pair.map((name) => placeOf(factors, name)) as [number, number],
    );
    const columns = chosenColumns(factors, counts, pairs, options.runs);
    if (!isBalanced(columns, counts))
      throw new LayoutError('layout "orthogonal-array": the array made is not balanced; please report it.');
    const blockOf = blocksOfReplicates("orthogonal-array", options.replicates, options.blocks);
    const size = columns[0]?.length ?? 0;
    refuseTooManyRuns("orthogonal-array", size, options.replicates);
    const runs = blockOf.flatMap((block) =>
      Array.from({ length: size }, (_, run) => ({
        block,
        role: "level" as const,
        settings: Object.fromEntries(
          factors.map((factor, place) => [factor.name, lists[place]?.[columns[place]?.[run] ?? 0] ?? ""]),
        ),
      })),
    );
    return {
      runs: numbered([
        ...runs,
        ...centreRuns("orthogonal-array", factors, options.centrePoints, options.blocks),
      ]),
      notes: [
        `${size} runs; every pair of levels of any two factors stands in equally many.`,
        ...(pairs.length > 0
          ? [
              `Clear of main effects and of one another: ${listed(options.interactions.map((pair) => pair.join(" × ")))}.`,
            ]
          : []),
        ...centreNotes(factors, options.centrePoints),
      ],
    };
  },
});

function placeOf(factors: readonly Factor[], name: string): number {
  const place = factors.findIndex((factor) => factor.name === name);
  if (place >= 0) return place;
  throw new LayoutError(
    `layout.interactions: "${name}" is not a factor of this trial. It has ${listed(factors.map((factor) => factor.name))}.`,
  );
}

function chosenColumns(
  factors: readonly Factor[],
  counts: readonly number[],
  pairs: readonly (readonly [number, number])[],
  runs: number | undefined,
): ArrayColumns {
  const wanted = new Map<number, number>();
  for (const count of counts) wanted.set(count, (wanted.get(count) ?? 0) + 1);
  const fitting = arrayPlans.filter((plan) => plan.holds(wanted));
  const words = [...wanted].map(
    ([levels, count]) => `${count} factor${count === 1 ? "" : "s"} of ${levels} levels`,
  );
  for (const plan of fitting) {
    if (runs !== undefined && plan.runs !== runs) continue;
    const columns =
      pairs.length > 0 ? clearColumns(plan, factors.length, pairs) : plainColumns(plan, wanted, counts);
    if (columns) return columns;
  }
  const sizes = [...new Set(fitting.map((plan) => plan.runs))];
  const clear = pairs.length > 0 ? " with these interactions clear" : "";
  throw new LayoutError(
    sizes.length === 0
      ? `layout "orthogonal-array": no array here holds ${listed(words)}. ${levelsThatDo(factors.length)}`
      : `layout "orthogonal-array": ${runs === undefined ? "no array" : `no array of ${runs} runs`} holds ${listed(words)}${clear}. ${pairs.length > 0 ? `Without the interactions these do: ${listed(sizes.map(String))} runs. Interactions are kept clear where all factors have two, or all have three levels.` : `These do: ${listed(sizes.map(String))} runs.`}`,
  );
}

/** Which numbers of levels so many factors can have, all alike. */
function levelsThatDo(factors: number): string {
  const works = [2, 3, 4, 5, 6, 7, 8, 9].filter((levels) =>
    arrayPlans.some((plan) => plan.holds(new Map([[levels, factors]]))),
  );
  return works.length > 0
    ? `If all ${factors} have the same number of levels, that can be ${listed(works.map(String), "or")}; for other numbers use "optimal".`
    : 'Take fewer factors, or use "plackett-burman".';
}

function plainColumns(
  plan: ArrayPlan,
  wanted: ReadonlyMap<number, number>,
  counts: readonly number[],
): ArrayColumns {
  const columns = plan.columns(wanted);
  const used = new Map<number, number>();
  return counts.map((levels) => {
    const place = used.get(levels) ?? 0;
    used.set(levels, place + 1);
    return columns.get(levels)?.[place] ?? [];
  });
}

function clearColumns(
  plan: ArrayPlan,
  factors: number,
  pairs: readonly (readonly [number, number])[],
): ArrayColumns | undefined {
  return plan.space ? assignClear(plan.space, factors, pairs) : undefined;
}
