import type { CommonOptions } from "../common-options.ts";
import { LayoutError } from "../error.ts";
import type { StandardLayout, StandardRun } from "../layout.ts";
import { borderRules, fitsWhole } from "./borders.ts";
import type { CutClock } from "./cut-clock.ts";

interface Made {
  readonly options: CommonOptions;
  readonly standard: StandardLayout;
}

/** Blocks are tried up to so many times the fewest: smaller ones cost more degrees of freedom than they are worth. */
const MOST_TIMES = 2;

/**
 * The layout in blocks of its own that fit between the borders asked for, where the kind has such: its blocks confound what
 * matters least, which no cut through one large block can promise. Undefined where there is none, or nothing is asked; then
 * the order is cut where the borders fall.
 */
export function blocksForBorders(
  { options, standard }: Made,
  clockOf: (runs: readonly StandardRun[]) => CutClock,
  inBlocks: (blocks: number) => Made,
  { hard }: { readonly hard: boolean },
): Made | undefined {
  // A search for an optimal layout is not made again for each number of blocks: state "blocks" with it.
  if (options.borders === undefined || options.blocks > 1 || options.warmUp?.analysed === true)
    return undefined;
  // Whole plots are borders themselves: blocks of their own would set the hard factors anew more often.
  if (standard.runs.some((run) => run.wholePlot !== undefined) || hard) return undefined;
  if (options.kind === "optimal" || options.order === "as-listed") return undefined;
  const runs = standard.runs;
  if (fitsWhole(runs, clockOf(runs), borderRules(options, clockOf(runs)))) return undefined;
  const fewest = fewestBlocks(runs, clockOf(runs), options);
  for (
    let blocks = Math.max(2, fewest);
    blocks <= Math.min(MOST_TIMES * fewest, runs.length / 2);
    blocks += 1
  ) {
    const made = attempt(() => inBlocks(blocks));
    if (!made) continue;
    const clock = clockOf(made.standard.runs);
    const rules = borderRules(options, clock);
    const numbers = [...new Set(made.standard.runs.map((run) => run.block))];
    const whole = numbers.every((number) =>
      fitsWhole(
        made.standard.runs.filter((run) => run.block === number),
        clock,
        rules,
      ),
    );
    if (whole && numbers.length > 1) return made;
  }
  return undefined;
}

/** Fewer can't do: the passes and minutes of all runs, shared out evenly. */
function fewestBlocks(runs: readonly StandardRun[], clock: CutClock, options: CommonOptions): number {
  const minutes = runs.reduce((sum, { settings }) => sum + clock.of(settings), 0);
  return borderRules(options, clock).capacities.reduce(
    (most, capacity) =>
      Math.max(most, Math.ceil(runs.length / capacity.passes), Math.ceil(minutes / capacity.minutes - 1e-9)),
    1,
  );
}

function attempt(make: () => Made): Made | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof LayoutError) return undefined; // This kind has no such blocks.
    throw error;
  }
}
