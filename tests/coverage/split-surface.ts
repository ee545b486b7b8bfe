import { fitMixed, observeTable, stationaryRegion, type MixedFit } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

const top = { x: 0.35, z: -0.2 };

/** x is changed once a whole plot, z in every run of it: 8 whole plots of 4 runs. */
const runs = [-1, 1, 0, -1, 0, 1, 0, 0].flatMap((x, plot) => [-1, 0, 0, 1].map((z) => ({ x, z, plot })));

function drawn(scatter: { readonly plot: number; readonly run: number }, random: SeededRandom): MixedFit {
  const plots = Array.from({ length: 8 }, () => scatter.plot * random.normal());
  const value = ({ x, z, plot }: (typeof runs)[number]): number =>
    10 -
    2 * (x - top.x) ** 2 -
    1.2 * (z - top.z) ** 2 -
    0.5 * (x - top.x) * (z - top.z) +
    plots[plot] +
    scatter.run * random.normal();
  const columns = [
    { name: "plot", unit: "", values: runs.map(({ plot }) => `plot ${plot + 1}`) },
    { name: "x", unit: "", values: runs.map(({ x }) => x) },
    { name: "z", unit: "", values: runs.map(({ z }) => z) },
    { name: "y", unit: "", values: runs.map(value) },
  ];
  return fitMixed(observeTable({ columns }, { response: "y", factors: ["x", "z"], random: ["plot"] }), {
    model: "surface",
  });
}

/** The level point of a surface that was cut as a split plot. */
export const splitSurfaceCases: readonly CoverageCase[] = [
  { scatter: { plot: 0.3, run: 0.3 }, words: "32 runs in 8 whole plots" },
  { scatter: { plot: 0, run: 0.3 }, words: "32 runs in 8 whole plots that add nothing" },
].map(({ scatter, words }, k): CoverageCase => ({
  name: `mixed: region of the level point, ${words}`,
  nominal: 0.95,
  known:
    "a zero or small variance of whole plots is judged on their few degrees of freedom; the text of stationaryRegion tells the figures",
  seed: 8170 + k,
  simulate: (random) => {
    const fit = drawn(scatter, random);
    return fit.surface?.stationary ? stationaryRegion(fit).contains(top) : null;
  },
}));
