import { z } from "zod";
import { hadamard } from "../algebra/hadamard.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { blocksOfReplicates, centreNotes, centreRuns, numbered } from "../deal.ts";
import { defineKind } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { leastLeaningColumns } from "../two-level/least-leaning-columns.ts";
import { partialAliases, largestPartialAlias } from "../two-level/partial-aliases.ts";
import { leftOutLevels, twoLevelSettings } from "../two-level/two-levels.ts";

const MOST_RUNS = 100;

const schema = z.strictObject({
  kind: z.literal("plackett-burman"),
  ...commonShape,
  /** A multiple of 4 above the number of factors; left out, the smallest. */
  runs: wholeNumber(4, 1000).optional(),
  /** `all` cuts every run again with all signs reversed: main effects are then clear of products of two factors. */
  foldOver: z.enum(["none", "all"]).default("none"),
});

export const plackettBurman = defineKind({
  kind: "plackett-burman",
  summary: "Main effects of many factors in the fewest runs, any multiple of 4: to find the few that matter.",
  schema,
  layOut: (factors, options) => {
    const { runs = Math.max(4, 4 * Math.ceil((factors.length + 1) / 4)) } = options;
    const matrix = tableOf(factors.length, runs);
    // Tables that are published keep the order of their columns.
    const once =
      runs <= PUBLISHED_RUNS
        ? matrix.map((row) => row.slice(1, factors.length + 1))
        : chosenColumns(matrix, factors.length);
    const rows =
      options.foldOver === "all" ? [...once, ...once.map((row) => row.map((value) => -value))] : once;
    const byHalves = options.foldOver === "all" && options.blocks === 2 && options.replicates === 1;
    const blockOf = byHalves
      ? [1]
      : blocksOfReplicates("plackett-burman", options.replicates, options.blocks);
    const cut = blockOf.flatMap((block) =>
      rows.map((row, index) => ({
        block: byHalves && index >= once.length ? 2 : block,
        role: "corner" as const,
        settings: twoLevelSettings("plackett-burman", factors, row),
      })),
    );
    const names = factors.map((factor) => factor.name);
    return {
      runs: numbered([
        ...cut,
        ...centreRuns("plackett-burman", factors, options.centrePoints, options.blocks),
      ]),
      resolution: options.foldOver === "all" ? 4 : 3,
      aliases: partialAliases(rows, names),
      notes: [
        ...aliasNotes(rows, options.foldOver),
        ...leftOutLevels(factors),
        ...centreNotes(factors, options.centrePoints),
      ],
    };
  },
});

/** Plackett and Burman print 12, 20 and 24 runs as cyclic rows: what is published of their aliases goes by that order. */
const PUBLISHED_RUNS = 24;

function chosenColumns(matrix: readonly (readonly number[])[], count: number) {
  const columns = leastLeaningColumns(matrix, count);
  return matrix.map((row) => columns.map((column) => row[column + 1] ?? 0));
}

function tableOf(factors: number, runs: number): readonly (readonly number[])[] {
  const kind = 'layout "plackett-burman"';
  const least = 4 * Math.ceil((factors + 1) / 4);
  if (factors < 1 || factors > MOST_RUNS - 1) {
    throw new LayoutError(`${kind}: ${factors} factors; it takes 1 to ${MOST_RUNS - 1}.`);
  }
  if (runs % 4 !== 0 || runs < least || runs > MOST_RUNS) {
    throw new LayoutError(
      `layout.runs: ${runs} runs can't hold ${factors} factors in a Plackett–Burman layout; take a multiple of 4 from ${least} to ${MOST_RUNS}.`,
    );
  }
  const matrix = hadamard(runs);
  if (matrix) return matrix;
  throw new LayoutError(
    `layout.runs: no construction for ${runs} runs is known to this tool. Take ${runs - 4 >= least ? `${runs - 4} or ` : ""}${runs + 4}.`,
  );
}

function aliasNotes(rows: readonly (readonly number[])[], foldOver: "none" | "all"): readonly string[] {
  if (foldOver === "all") return ["Every main effect is clear of products of two factors."];
  const most = largestPartialAlias(rows);
  if (most === 0) return ["Every main effect is clear of products of two factors."];
  return [
    most === 1
      ? "Main effects are aliased with whole products of two factors, as in a fraction."
      : `Each product of two factors leans on main effects by up to ${most.toFixed(3)} of its size: trust main effects only where such products are small.`,
  ];
}
