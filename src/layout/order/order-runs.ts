import { listed } from "../../units/index.ts";
import { seededRandom, type SeededRandom } from "../../numerics/index.ts";
import { wholePlotsOf, type Factor, type Run } from "../../trial/index.ts";
import { middleSettings, settingWords } from "../levels.ts";
import { cutClock, type CutClock } from "./cut-clock.ts";
import { shopOrder } from "./shop-order.ts";
import type { OrderingOptions } from "../common-options.ts";
import type { StandardLayout, StandardRun } from "../layout.ts";
import { driftProofOrder } from "./drift-proof.ts";
import { hardFactors, wholePlotOrder } from "./hard-to-change.ts";
import { fill, openRuns, slotsOf, type Slot } from "./slots.ts";

/**
 * Puts a layout's runs into cutting order. Blocks are respected whatever the order; the same seed gives the same order.
 * Returns the runs numbered from 1 and one readable sentence for each rule that the order obeys.
 */
export function orderRuns(
  factors: readonly Factor[],
  standard: StandardLayout,
  options: OrderingOptions,
  clockOf: (runs: readonly StandardRun[]) => CutClock = (runs) => cutClock(runs, {}),
): { readonly runs: readonly Run[]; readonly rules: readonly string[] } {
  // A centre of a hard factor is a whole plot like any other; spread out, it would be set anew for every centre run.
  const hard = hardFactors(factors).length > 0;
  const spreadCentre = options.order !== "as-listed" && !hard;
  const slots = slotsOf(standard, { spreadCentre });
  const blocks = [...new Set(slots.map((slot) => slot.block))];
  const random = seededRandom(options.seed);
  const open = new Map(blocks.map((block) => [block, openRuns(standard, block, { spreadCentre })]));
  const first = hard
    ? wholePlotOrder(factors, slots, open, options)
    : options.order === "drift-proof" || options.order === "fewest-changes"
      ? driftProofOrder({ factors, slots, open, random, seed: options.seed, protect: options.protect })
      : plainOrder(slots, open, options, random);
  const clock = clockOf(first.runs);
  const made = shopOrder({ factors, slots, made: first, options, clock, random });
  const plots = wholePlotsOf(made.runs, factors);
  return {
    runs: made.runs.map((run, index) => ({
      run: index + 1,
      standard: run.standard,
      block: run.block,
      role: run.role,
      settings: run.settings,
      ...(plots ? { wholePlot: plots.of[index] ?? 1 } : {}),
    })),
    rules: [
      ...warmUpRules(factors, options),
      ...blockRules(first.runs, blocks, options),
      ...made.rules,
      ...fixedRules(factors, standard, spreadCentre),
    ],
  };
}

interface Ordered {
  readonly runs: readonly StandardRun[];
  readonly rules: readonly string[];
}

function plainOrder(
  slots: readonly Slot[],
  open: ReadonlyMap<number, readonly StandardRun[]>,
  { order, seed }: Pick<OrderingOptions, "order" | "seed">,
  random: SeededRandom,
): Ordered {
  if (order === "as-listed") return { runs: fill(slots, open), rules: ["Cut in the order listed."] };
  const shuffled = new Map([...open].map(([block, runs]) => [block, random.shuffle(runs)]));
  return { runs: fill(slots, shuffled), rules: [randomRule(open.size, seed)] };
}

function randomRule(blocks: number, seed: number): string {
  return `Random order${blocks > 1 ? " within each block" : ""}, drawn from seed ${seed}.`;
}

/** Passes before run 1; an analysed warm-up is told with the borders. */
function warmUpRules(factors: readonly Factor[], { warmUp }: OrderingOptions): readonly string[] {
  if (!warmUp || warmUp.analysed) return [];
  const middle = middleSettings(factors);
  const at = factors.map((factor) => `${factor.name} ${settingWords(factor, middle[factor.name] ?? "")}`);
  const { passes } = warmUp;
  return [
    `Before run 1, ${passes === 1 ? "one pass is" : `${passes} passes are`} cut to warm the machine up, at ${listed(at)}; nothing is read from ${passes === 1 ? "it" : "them"}.`,
  ];
}

function blockRules(
  runs: readonly StandardRun[],
  blocks: readonly number[],
  { borders }: OrderingOptions,
): readonly string[] {
  if (blocks.length < 2) return [];
  const sizes = blocks.map((block) => runs.filter((run) => run.block === block).length);
  const even = new Set(sizes).size === 1;
  const size = even ? `${sizes[0]} runs each` : `${listed(sizes.map(String))} runs`;
  return [
    `${blocks.length} blocks of ${size}, cut one after another${borders ? "" : "; a new edge, shift or part begins only with a new block"}.`,
  ];
}

function fixedRules(
  factors: readonly Factor[],
  standard: StandardLayout,
  spreadCentre: boolean,
): readonly string[] {
  const centre = standard.runs.filter((run) => run.role === "centre").length;
  const rules: string[] = [];
  if (centre > 0 && spreadCentre) {
    rules.push(
      centre === 1
        ? "The centre run stands in the middle."
        : `The ${centre} centre runs are spread evenly over the cutting order, so that they show drift.`,
    );
  }
  if (standard.anchor) {
    const { settings, every } = standard.anchor;
    const at = factors.map((factor) => `${factor.name} ${settingWords(factor, settings[factor.name] ?? "")}`);
    rules.push(
      `An anchor run (${listed(at)}) is cut first, after every ${every === 1 ? "run" : `${every} runs`}, and last, so that drift can be read off it.`,
    );
  }
  return rules;
}
