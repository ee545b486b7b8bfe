import {
  fitMixed,
  isInterval,
  observeTable,
  type MixedFit,
  type Observations,
  type Uncertain,
} from "../../src/model/index.ts";
import type { SeededRandom, SmallSample } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

/** A split plot: the edge is changed once a whole plot, the feed in every run. Variances of whole plots and of runs. */
export interface SplitPlot {
  readonly sizes: readonly number[];
  readonly plot: number;
  readonly run: number;
}

export const even = (plots: number, runs: number): readonly number[] => new Array<number>(plots).fill(runs);
/** Whole plots of unequal size, as when runs are lost: 20 runs. */
export const uneven = [2, 3, 4, 2, 3, 1, 3, 2];
const edgeEffect = 0.3;
const feedSlope = 4;

/** Ra without scatter. */
export const meanOf = (edge: "fresh" | "used", feed: number): number =>
  0.2 + feedSlope * feed + (edge === "used" ? edgeEffect : 0);

/** The rows of a split plot, with the readings that a draw gives them; the layout is read once. */
export function drawn(design: SplitPlot, random: SeededRandom, smallSample: SmallSample): MixedFit {
  const { sizes, plot, run } = design;
  const values = sizes.flatMap((size, k) => {
    const own = Math.sqrt(plot) * random.normal();
    return Array.from(
      { length: size },
      (_, i) => meanOf(edgeOf(k), feedOf(size, k, i)) + own + Math.sqrt(run) * random.normal(),
    );
  });
  const { rows, ...rest } = layoutOf(design);
  return fitMixed(
    { ...rest, rows: rows.map((row, i) => ({ ...row, value: values[i], single: [values[i]] })) },
    { smallSample },
  );
}

const edgeOf = (plot: number): "fresh" | "used" => (plot % 2 === 0 ? "fresh" : "used");
const feedOf = (size: number, plot: number, place: number): number =>
  [0.08, 0.24, 0.16, 0.2][(place + (size < 4 ? Math.floor(plot / 2) : 0)) % 4];

const layouts = new Map<SplitPlot, Observations>();

function layoutOf(design: SplitPlot): Observations {
  const known = layouts.get(design);
  if (known !== undefined) return known;
  const rows = design.sizes.flatMap((size, k) =>
    Array.from({ length: size }, (_, i) => ({ plot: String(k), edge: edgeOf(k), feed: feedOf(size, k, i) })),
  );
  const made = observeTable(
    {
      columns: [
        { name: "plot", unit: "", values: rows.map((row) => row.plot) },
        { name: "edge", unit: "", values: rows.map((row) => row.edge) },
        { name: "feed", unit: "", values: rows.map((row) => row.feed) },
        { name: "Ra", unit: "", values: rows.map(() => 1) },
      ],
    },
    { response: "Ra", factors: ["edge", "feed"], random: ["plot"] },
  );
  layouts.set(design, made);
  return made;
}

export function holds(value: Uncertain, truth: number): boolean | null {
  return isInterval(value) ? value.low <= truth && truth <= value.high : null;
}

/** Feed 0.08 to 0.24 and edge, or less where fewer were cut. */
function effectHolds(fit: MixedFit, factor: string, truth: number): boolean | null {
  const effect = fit.effects.find((one) => one.factor === factor);
  return effect === undefined ? null : holds(effect.value, truth);
}

const designs: readonly (readonly [string, SplitPlot])[] = [
  ["8 runs in 4 whole plots", { sizes: even(4, 2), plot: 1, run: 1 }],
  ["16 runs in 8 whole plots", { sizes: even(8, 2), plot: 1, run: 1 }],
  ["16 runs in 8 whole plots that add a tenth", { sizes: even(8, 2), plot: 0.1, run: 1 }],
  ["16 runs in 8 whole plots that add nothing", { sizes: even(8, 2), plot: 0, run: 1 }],
  ["20 runs in 8 unequal whole plots", { sizes: uneven, plot: 1, run: 1 }],
  ["32 runs in 8 whole plots", { sizes: even(8, 4), plot: 1, run: 1 }],
];

const truth = (name: "edge" | "feed"): number => (name === "edge" ? edgeEffect : feedSlope * 0.16);

function effectCases(): readonly CoverageCase[] {
  return designs.flatMap(([name, design], index) =>
    (["edge", "feed"] as const).flatMap((factor, k) =>
      (["satterthwaite", "kenward-roger"] as const)
        // Balanced layouts are the same by either method.
        .filter((method) => method === "satterthwaite" || design.sizes === uneven)
        .map((method): CoverageCase => ({
          name: `mixed: effect of ${factor === "edge" ? "a whole-plot factor" : "a factor of runs"}, ${name}${method === "satterthwaite" ? "" : ", Kenward–Roger"}`,
          nominal: 0.95,
          seed: 7000 + 10 * index + 2 * k + (method === "satterthwaite" ? 0 : 1),
          simulate: (random) => effectHolds(drawn(design, random, method), factor, truth(factor)),
        })),
    ),
  );
}

function varianceCases(): readonly CoverageCase[] {
  const shares = designs.filter(([, { plot }]) => plot > 0);
  return shares.flatMap(([name, design], index): CoverageCase[] => [
    {
      name: `mixed: share of the whole plots, ${name}`,
      nominal: 0.95,
      seed: 7100 + index,
      simulate: (random) =>
        holds(
          drawn(design, random, "satterthwaite").variances[0].shareInterval,
          design.plot / (design.plot + design.run),
        ),
    },
    ...(index === 1 ? deviationCases(name, design, index) : []),
  ]);
}

function deviationCases(name: string, design: SplitPlot, index: number): readonly CoverageCase[] {
  return [
    {
      name: `mixed: standard deviation of the whole plots, ${name}`,
      nominal: 0.95,
      seed: 7120 + index,
      simulate: (random) =>
        holds(drawn(design, random, "satterthwaite").variances[0].interval, Math.sqrt(design.plot)),
    },
    {
      name: `mixed: standard deviation of the runs, ${name}`,
      nominal: 0.95,
      seed: 7140 + index,
      simulate: (random) =>
        holds(drawn(design, random, "satterthwaite").variances[1].interval, Math.sqrt(design.run)),
    },
  ];
}

/** The true shares where they miss a point in a hundred; `fitMixed` tells its users the same. */
const known: Readonly<Record<number, string>> = {
  7000: "98.8 %: with 2 degrees of freedom between whole plots a variance that comes out as zero is taken from the runs, yet judged on the 2",
  7020: "97.4 %: a whole-plot variance that comes out as zero is taken from the runs, yet judged on the degrees of freedom of the whole plots",
  7030: "97.9 %: a whole-plot variance that comes out as zero is taken from the runs, yet judged on the degrees of freedom of the whole plots",
  7032: "93.9 %: the scatter of the whole plots is pooled into that of the runs where it comes out smaller",
  7100: "96.1 %: where the exact set is empty the interval by profile likelihood stands in",
  7102: "96.7 %: where the exact set is empty the interval by profile likelihood stands in",
};

export const mixedCases: readonly CoverageCase[] = [...effectCases(), ...varianceCases()].map((one) =>
  known[one.seed] === undefined ? one : { ...one, known: known[one.seed] },
);
