import type { MixedFit } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { drawnTogether, type CoverageCase } from "./coverage-case.ts";
import { drawn, even, meanOf, uneven, type SplitPlot } from "./mixed.ts";

const at = { edge: "used", feed: 0.2 } as const;
const truth = meanOf(at.edge, at.feed);

const designs: readonly (readonly [string, SplitPlot])[] = [
  ["8 runs in 4 whole plots", { sizes: even(4, 2), plot: 1, run: 1 }],
  ["8 runs in 4 whole plots that add nothing", { sizes: even(4, 2), plot: 0, run: 1 }],
  ["16 runs in 4 whole plots", { sizes: even(4, 4), plot: 1, run: 1 }],
  ["16 runs in 8 whole plots", { sizes: even(8, 2), plot: 1, run: 1 }],
  ["16 runs in 8 whole plots that add a tenth", { sizes: even(8, 2), plot: 0.1, run: 1 }],
  ["16 runs in 8 whole plots that add nothing", { sizes: even(8, 2), plot: 0, run: 1 }],
  ["20 runs in 8 unequal whole plots", { sizes: uneven, plot: 1, run: 1 }],
  ["32 runs in 8 whole plots", { sizes: even(8, 4), plot: 1, run: 1 }],
];

/** Predictions known to hold too often; the notes of `fitMixed` tell its users the figures. */
const safe =
  "a whole-plot variance that comes out as zero is taken from the runs, yet judged on the degrees of freedom of the whole plots; fitMixed's notes give the figures";
const known = new Set([
  "mean at a setting, 8 runs in 4 whole plots",
  "mean at a setting, 8 runs in 4 whole plots that add nothing",
  "next run in a set-up of its own, 8 runs in 4 whole plots that add nothing",
  "mean at a setting, 16 runs in 4 whole plots",
  "mean at a setting, 16 runs in 8 whole plots that add a tenth",
  "mean at a setting, 16 runs in 8 whole plots that add nothing",
]);

type Draw = (random: SeededRandom) => MixedFit;

/** The mean at a setting, and one run there in a set-up of its own. `fresh` draws what that run adds to the mean. */
function predictionCases(
  name: string,
  seed: number,
  draw: Draw,
  fresh: (random: SeededRandom) => number,
): readonly CoverageCase[] {
  return drawnTogether(
    seed,
    ["mean at a setting", "next run in a set-up of its own"]
      .map((what) => `${what}, ${name}`)
      .map((what) => ({
        name: `mixed: ${what}`,
        nominal: 0.95,
        ...(known.has(what) ? { known: safe } : {}),
      })),
    (random) => {
      const { mean, single } = draw(random).predict(at);
      const next = truth + fresh(random);
      return [
        mean && mean.low <= truth && truth <= mean.high,
        single && single.low <= next && next <= single.high,
      ];
    },
  );
}

const normal = (variance: number, random: SeededRandom): number => Math.sqrt(variance) * random.normal();

/** Predictions of split plots. */
export const mixedPredictionCases: readonly CoverageCase[] = [
  ...designs.flatMap(([name, design], k) =>
    predictionCases(
      name,
      8100 + k,
      (random) => drawn(design, random, "satterthwaite"),
      (random) => normal(design.plot, random) + normal(design.run, random),
    ),
  ),
];
