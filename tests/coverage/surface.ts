import { bendIntervals, fitLinear, observeTable, stationaryRegion } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

const axial = Math.SQRT2;
const corners = [-1, 1].flatMap((x) => [-1, 1].map((z) => [x, z] as const));
const points = [
  ...corners,
  ...([
    [-axial, 0],
    [axial, 0],
    [0, -axial],
    [0, axial],
  ] as const),
  ...Array.from({ length: 5 }, () => [0, 0] as const),
];
const top = { x: 0.35, z: -0.2 };

/** A central composite of 13 runs (or two of them) over a surface with its top at (0.35, −0.2) and bends of −1.6 and −0.8 along its own axes. */
function drawn(times: number, scatter: number, random: SeededRandom) {
  const runs = Array.from({ length: times }, () => points).flat();
  const value = ([x, z]: readonly [number, number]) => {
    const [u, w] = [(x - top.x + z - top.z) / axial, (x - top.x - z + top.z) / axial];
    return 10 - 1.6 * u * u - 0.8 * w * w + scatter * random.normal();
  };
  return fitLinear(
    observeTable(
      {
        columns: [
          { name: "x", unit: "", values: runs.map(([x]) => x) },
          { name: "z", unit: "", values: runs.map(([, z]) => z) },
          { name: "y", unit: "", values: runs.map(value) },
        ],
      },
      { response: "y", factors: ["x", "z"] },
    ),
    { model: "surface" },
  );
}

export const surfaceCases: readonly CoverageCase[] = [
  { times: 1, scatter: 0.3, words: "13 runs, clear bends" },
  { times: 1, scatter: 1, words: "13 runs, faint bends" },
  { times: 2, scatter: 0.5, words: "26 runs" },
].flatMap(({ times, scatter, words }, index): CoverageCase[] => [
  {
    name: `region of the level point, ${words}`,
    nominal: 0.95,
    seed: 1300 + index,
    simulate: (random) => {
      const fit = drawn(times, scatter, random);
      return fit.surface?.stationary ? stationaryRegion(fit).contains(top) : null;
    },
  },
  {
    name: `largest eigenvalue of the bend, ${words}`,
    nominal: 0.95,
    seed: 1310 + index,
    simulate: (random) => {
      const [{ value }] = bendIntervals(drawn(times, scatter, random));
      return "low" in value ? value.low <= -0.8 && -0.8 <= value.high : null;
    },
  },
]);
