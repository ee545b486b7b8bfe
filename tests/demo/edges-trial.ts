import { seededRandom } from "../../src/numerics/index.ts";
import type { Reading, Run } from "../../src/trial/index.ts";
import { common } from "./seal-face-trials.ts";

/** Three ways to prepare an edge, each four times on every one of three blanks, in random order within a blank. */
export const edgesSpec = {
  ...common,
  source:
    "invented: made by tests/demo/invent.ts from the true values in tests/demo/edges-trial.ts; nothing was cut",
  title: "Pump-cover seal face: three edges",
  question:
    "Does honing or coating the edge change Ra on the seal face, and which edge cuts it most steadily?",
  factors: [{ name: "edge", kind: "category", levels: ["ground", "honed", "coated"] }],
  layout: { kind: "factorial", replicates: 12, blocks: 3, order: "random", seed: 1126 },
  held: {
    feed: "0.14 mm/rev",
    speed: "1700 rev/min",
    depth: "0.1 mm",
    coolant: "dry",
    material: "aluminium casting",
  },
  budget: { passes: 36, minutes: 240, stock: "4 mm", edges: 36, minutesBetween: 5 },
  today: { edge: "ground" },
} as const;

/** Seed of the scatter; the layout has its own. */
export const edgesSeed = 1126;

/** The true values behind the comparison of edges. */
export interface EdgesTruth {
  /** Ra in µm by edge, on a blank of the middle sort. */
  readonly raUm: Readonly<Record<string, number>>;
  /** What each blank multiplies Ra by. */
  readonly blankRatios: readonly number[];
  /** Standard deviation of the natural logarithm from run to run, by edge: one that is only ground frets. */
  readonly runScatter: Readonly<Record<string, number>>;
  readonly spotScatter: number;
}

export const edgesTruth: EdgesTruth = {
  raUm: { ground: 0.68, honed: 0.55, coated: 0.555 },
  blankRatios: [0.96, 1, 1.05],
  runScatter: { ground: 0.09, honed: 0.035, coated: 0.035 },
  spotScatter: 0.02,
};

/** Readings of the comparison of edges: two spots on each surface, each read once. */
export function inventedEdgeReadings(
  truth: EdgesTruth,
  runs: readonly Run[],
  { seed }: { seed: number },
): readonly Reading[] {
  const random = seededRandom(seed);
  const scatter = (standardDeviation: number) => Math.exp(standardDeviation * random.normal());
  const start = Date.UTC(2026, 10, 24, 8, 0);
  return runs.flatMap(({ run, block, settings }) => {
    const edge = String(settings["edge"]);
    const blank = truth.blankRatios[block - 1] ?? 1;
    const surface = (truth.raUm[edge] ?? NaN) * blank * scatter(truth.runScatter[edge] ?? NaN);
    return [1, 2].map((spot) => ({
      run,
      response: "Ra",
      value: Number((surface * scatter(truth.spotScatter)).toFixed(3)),
      unit: "µm",
      spot,
      repeat: 1,
      taken: new Date(start + (run * 6 + spot) * 60_000).toISOString(),
      note: "",
      void: "",
    }));
  });
}
