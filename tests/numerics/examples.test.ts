import { expect, test } from "vitest";
import {
  betaQuantile,
  brentMinimum,
  brentRoot,
  chiSquareQuantile,
  chiSquareTail,
  fQuantile,
  fTail,
  integrate,
  leastSquares,
  manyToOneTail,
  mean,
  nonCentralFCdf,
  nonCentralTTail,
  nonlinearLeastSquares,
  normalCdf,
  normalQuantile,
  normalTail,
  powerColumn,
  refitter,
  seededRandom,
  standardDeviation,
  studentisedRangeQuantile,
  studentisedRangeTail,
  sumExactly,
  toleranceFactor,
  tQuantile,
  tTail,
  tTwoSided,
} from "../../src/numerics/index.ts";

/** Every example in a comment of src/numerics, so that none drifts from what the code gives. Places: those printed there. */
const examples: readonly (readonly [
  claim: string,
  computed: () => number,
  answer: number,
  places: number,
])[] = [
  ["normalTail(1.959963984540054)", () => normalTail(1.959963984540054), 0.025, 12],
  ["normalCdf(-1.959963984540054)", () => normalCdf(-1.959963984540054), 0.025, 12],
  ["normalQuantile(0.975)", () => normalQuantile(0.975), 1.959963984540054, 14],
  ["tTail(3.182446305283708, 3)", () => tTail(3.182446305283708, 3), 0.025, 12],
  ["tTwoSided(3.182446305283708, 3)", () => tTwoSided(3.182446305283708, 3), 0.05, 12],
  ["tQuantile(0.975, 3)", () => tQuantile(0.975, 3), 3.182446305283708, 14],
  ["fTail(4.494, 1, 16)", () => fTail(4.494, 1, 16), 0.05, 6],
  ["fQuantile(0.95, 3, 12)", () => fQuantile(0.95, 3, 12), 3.490295, 6],
  ["chiSquareTail(7.814728, 3)", () => chiSquareTail(7.814728, 3), 0.05, 7],
  ["chiSquareQuantile(0.95, 3)", () => chiSquareQuantile(0.95, 3), 7.814728, 6],
  ["betaQuantile(0.975, 3, 8)", () => betaQuantile(0.975, 3, 8), 0.5560955, 7],
  ["nonCentralTTail(…, 14, 2)", () => nonCentralTTail(tQuantile(0.975, 14), 14, 2), 0.461176, 6],
  ["nonCentralFCdf(…, 3, 12, 0)", () => nonCentralFCdf(fQuantile(0.95, 3, 12), 3, 12, 0), 0.95, 12],
  ["toleranceFactor(10, 0.95, 0.95)", () => toleranceFactor(10, 0.95, 0.95), 2.91096, 5],
  ["studentisedRangeTail(3.87678, 3, 10)", () => studentisedRangeTail(3.87678, 3, 10), 0.05, 6],
  ["studentisedRangeQuantile(0.95, 4, 20)", () => studentisedRangeQuantile(0.95, 4, 20), 3.95829, 5],
  [
    "manyToOneTail(2.54, …, 20)",
    () => manyToOneTail(2.54, { controlSize: 6, sizes: [6, 6, 6], sides: "both" }, 20),
    0.05,
    3,
  ],
  ["brentRoot of x² − 2", () => brentRoot((x) => x * x - 2, 0, 2), 1.4142135623730951, 15],
  ["brentMinimum of (x − 2)²", () => brentMinimum((x) => (x - 2) ** 2, 0, 5).at, 2, 7],
  [
    "integrate e^(−x²)",
    () => integrate((x) => Math.exp(-x * x), -Infinity, Infinity).value,
    1.7724538509055,
    12,
  ],
  ["sumExactly([1e16, 1, -1e16])", () => sumExactly([1e16, 1, -1e16]), 1, 15],
  ["mean([1, 2, 6])", () => mean([1, 2, 6]), 3, 15],
  ["standardDeviation([1, 2, 3])", () => standardDeviation([1, 2, 3]), 1, 15],
  ["seededRandom(20261125).integer(6)", () => seededRandom(20261125).integer(6), 4, 15],
  ["the low part of 0.1²", () => powerColumn(Float64Array.of(0.1), 2).low![0] * 1e19, -8.33, 2],
  [
    "the slope of 2, 4, 5, 8",
    () =>
      leastSquares(
        [{ high: Float64Array.of(1, 1, 1, 1) }, { high: Float64Array.of(1, 2, 3, 4) }],
        Float64Array.of(2, 4, 5, 8),
      ).coefficients[1],
    1.9,
    15,
  ],
  [
    "exp(b·x) through 1, 2, 4",
    () => {
      const x = [0, 1, 2];
      const evaluate = (b: Float64Array, value: Float64Array, jacobian: Float64Array): void =>
        x.forEach((at, i) => {
          value[i] = Math.exp(b[0] * at);
          jacobian[i] = at * value[i];
        });
      const model = { rows: 3, parameters: 1, evaluate };
      return nonlinearLeastSquares(model, Float64Array.of(1, 2, 4), Float64Array.of(0)).parameters[0];
    },
    Math.LN2,
    14,
  ],
  [
    "a refit of 1, 2, 6",
    () => refitter([{ high: Float64Array.of(1, 1, 1) }]).refit(Float64Array.of(1, 2, 6)).coefficients[0],
    3,
    14,
  ],
];

test.each(examples)("%s", (_, computed, answer, places) => {
  expect(computed()).toBeCloseTo(answer, places);
});
