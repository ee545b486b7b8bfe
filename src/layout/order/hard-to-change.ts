import { listed } from "../../units/index.ts";
import { seededRandom, type SeededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { CommonOptions } from "../common-options.ts";
import { settingsKey } from "../levels.ts";
import type { StandardRun } from "../layout.ts";
import { driftProofOrder } from "./drift-proof.ts";
import { fill, type Slot } from "./slots.ts";

export function hardFactors(factors: readonly Factor[]): readonly Factor[] {
  return factors.filter((factor) => factor.change === "hard");
}

type Plot = readonly StandardRun[];

interface PlotOrder {
  readonly runs: readonly StandardRun[];
  readonly rules: readonly string[];
}

/**
 * Runs in cutting order where a factor is hard to change: the runs of a whole plot stay together, whatever the order asked
 * for. Which runs share a whole plot is the kind's choice; where it made none, runs at one setting of the hard factors do,
 * each replicate in whole plots of its own. A list cut as listed stands as it is: each change of a hard factor is a set-up.
 */
export function wholePlotOrder(
  factors: readonly Factor[],
  slots: readonly Slot[],
  open: ReadonlyMap<number, readonly StandardRun[]>,
  { order, seed }: Pick<CommonOptions, "order" | "seed">,
): PlotOrder {
  const random = seededRandom(seed);
  const ordered =
    order === "as-listed"
      ? { open, rules: ["Cut in the order listed."] }
      : order === "random"
        ? shuffledPlots(factors, open, random)
        : driftProofPlots(factors, open, random, seed);
  const runs = numberedPlots(factors, fill(slots, ordered.open));
  return { runs, rules: [...setUpRules(factors, runs, { order, seed }), ...ordered.rules] };
}

interface Arranged {
  readonly open: ReadonlyMap<number, readonly StandardRun[]>;
  readonly rules: readonly string[];
}

function shuffledPlots(
  factors: readonly Factor[],
  open: ReadonlyMap<number, readonly StandardRun[]>,
  random: SeededRandom,
): Arranged {
  return {
    open: new Map(
      [...open].map(([block, runs]) => [
        block,
        random.shuffle(plotsOf(factors, runs)).flatMap((plot) => random.shuffle(plot)),
      ]),
    ),
    rules: [],
  };
}

/** Whole plots in the order in which drift moves the hard factors least, then the runs of each for the others. */
function driftProofPlots(
  factors: readonly Factor[],
  open: ReadonlyMap<number, readonly StandardRun[]>,
  random: SeededRandom,
  seed: number,
): Arranged {
  const hard = hardFactors(factors);
  const easy = factors.filter((factor) => factor.change !== "hard");
  const plots = new Map([...open].flatMap(([, runs]) => plotsOf(factors, runs)).map(namedByFirst));
  const heads = [...plots.values()].flatMap((plot) => plot.slice(0, 1));
  const between = driftProofOrder({
    factors: hard,
    slots: heads.map(({ block }) => ({ block, fixed: undefined })),
    open: groupedBy(heads, (run) => run.block),
    random,
    seed,
  });
  // The runs of a whole plot are ordered as those of a block: what drifts from plot to plot is the set-ups' own scatter.
  const inside = between.runs.flatMap(({ standard }, place) =>
    (plots.get(standard) ?? []).map((run) => ({ ...run, block: place + 1 })),
  );
  const blockOf = new Map([...open].flatMap(([block, runs]) => runs.map((run) => [run.standard, block])));
  const within =
    easy.length === 0
      ? { runs: inside, rules: [] }
      : driftProofOrder({
          factors: easy,
          slots: inside.map(({ block }) => ({ block, fixed: undefined })),
          open: groupedBy(inside, (run) => run.block),
          random,
          seed,
        });
  const runs = within.runs.map((run) => ({ ...run, block: blockOf.get(run.standard) ?? run.block }));
  return {
    open: groupedBy(runs, (run) => run.block),
    rules: [
      ...between.rules.map((rule) => `Set-ups: ${rule}`),
      ...within.rules.map((rule) => `Runs within their set-ups: ${rule}`),
    ],
  };
}

function namedByFirst(plot: Plot): readonly [number, Plot] {
  return [plot[0]?.standard ?? 0, plot];
}

function groupedBy(
  runs: readonly StandardRun[],
  keyOf: (run: StandardRun) => number,
): ReadonlyMap<number, readonly StandardRun[]> {
  const groups = new Map<number, StandardRun[]>();
  for (const run of runs) groups.set(keyOf(run), [...(groups.get(keyOf(run)) ?? []), run]);
  return groups;
}

/** The whole plots of a block: the kind's own, else runs at one setting of the hard factors, each replicate by itself. */
function plotsOf(factors: readonly Factor[], runs: readonly StandardRun[]): readonly Plot[] {
  const hard = hardFactors(factors);
  const seen = new Map<string, number>();
  const plots = new Map<string, StandardRun[]>();
  for (const run of runs) {
    const whole = settingsKey(factors, run.settings);
    const replicate = seen.get(whole) ?? 0;
    seen.set(whole, replicate + 1);
    const key =
      run.wholePlot === undefined
        ? `replicate ${replicate} ${settingsKey(hard, run.settings)}`
        : `plot ${run.wholePlot}`;
    plots.set(key, [...(plots.get(key) ?? []), run]);
  }
  // Numbers apart for plots that follow one another at one setting.
  return [...plots.values()].map((plot) =>
    plot.map((run) => ({ ...run, wholePlot: run.wholePlot ?? -(plot[0]?.standard ?? 0) })),
  );
}

/** Whole plots numbered from 1 in cutting order: one ends with its block, with a change of a hard factor, or where it is set anew. */
function numberedPlots(factors: readonly Factor[], runs: readonly StandardRun[]): readonly StandardRun[] {
  const hard = hardFactors(factors);
  let count = 0;
  let last: { readonly key: string; readonly plot: number | undefined } | undefined;
  return runs.map((run) => {
    const key = `${run.block} ${settingsKey(hard, run.settings)}`;
    // An anchor belongs to no plot: it shares the set-up that it meets where the hard factors stand as it wants them.
    const anew = last?.plot !== undefined && run.wholePlot !== undefined && last.plot !== run.wholePlot;
    if (key !== last?.key || anew) count += 1;
    last = { key, plot: run.wholePlot ?? (key === last?.key ? last.plot : undefined) };
    return { ...run, wholePlot: count };
  });
}

/** What the order does for hard factors, and what that costs. */
function setUpRules(
  factors: readonly Factor[],
  runs: readonly StandardRun[],
  { order, seed }: Pick<CommonOptions, "order" | "seed">,
): readonly string[] {
  const names = listed(hardFactors(factors).map((factor) => factor.name));
  const several = hardFactors(factors).length > 1;
  const plots = runs[runs.length - 1]?.wholePlot ?? 0;
  const drawn =
    order === "random"
      ? `; set-ups (whole plots), and the runs in each, stand in random order, drawn from seed ${seed}`
      : "";
  return [
    `${names} ${several ? "are" : "is"} hard to change and set anew ${plots} times, also where the setting stays the same${drawn}.`,
    `What ${names} ${several ? "do" : "does"} is known by the scatter between set-ups: analyse as a split plot.`,
  ];
}
