import { expect, test } from "vitest";
import { compareLevels, fitLinear, scatterBeside, unequalScatter } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { madeTrial } from "../made-trial.ts";

const edges = ["ground", "honed", "coated"] as const;
const factors = [{ name: "edge", kind: "category", levels: [...edges] }];

/** Three edges in three blocks, four runs each in every block; `sd` gives each edge's scatter. */
function blocked(seed: number, sd: readonly number[], { inBlocks = 3 } = {}) {
  const random = seededRandom(seed);
  return madeTrial(
    Array.from({ length: 36 }, (_, at) => {
      const block = Math.floor(at / 12) + 1;
      const level = at % 3;
      const value = 5 + 0.6 * block * Number(inBlocks > 1) + 0.2 * level + sd[level] * random.normal();
      return { settings: { edge: edges[level] }, block: inBlocks > 1 ? block : 1, spots: [[value]] };
    }),
    { factors },
  );
}

test("a level of five times the scatter is named where the trial has blocks, with what it means and what mends it", () => {
  const comparison = compareLevels(blocked(4, [0.1, 0.1, 0.5]));
  expect(comparison.scatter).toBeNull();
  expect(comparison.scatterBeside?.evidence).toBe(true);
  expect(comparison.scatterBeside?.ratio).toBeGreaterThan(2.5);
  expect(comparison.notes.join(" ")).toMatch(
    /The levels don't scatter alike: .* times as much with coated as with \w+ \(p 0\.00\d+\)\..* Leave the blocks out/,
  );
});

test("of clean trials with blocks one in twenty is flagged", () => {
  const count = 400;
  let flagged = 0;
  for (let seed = 1; seed <= count; seed++) {
    const fit = fitLinear(blocked(1000 + seed, [0.1, 0.1, 0.1]), { response: "Ra" });
    if (scatterBeside(fit, "edge", { draws: 199, seed })!.evidence) flagged++;
  }
  // p < 0.05 on 199 draws is p ≤ 0.045 (9 of 200): 18 of 400 are expected, with a standard deviation of 4.1; three of them either way.
  expect(flagged).toBeGreaterThanOrEqual(6);
  expect(flagged).toBeLessThanOrEqual(30);
});

test("without blocks it agrees with the test by variances, which has the same ratio and another way to p", () => {
  for (const [seed, sd] of [
    [2, [0.1, 0.1, 0.1]],
    [3, [0.1, 0.14, 0.2]],
  ] as const) {
    const trial = blocked(seed, sd, { inBlocks: 1 });
    const fit = fitLinear(trial, { response: "Ra" });
    const groups = edges.map((edge) =>
      fit.rows.filter(({ settings }) => settings["edge"] === edge).map(({ value }) => value),
    );
    const drawn = scatterBeside(fit, "edge", { draws: 4999 })!;
    const direct = unequalScatter(groups)!;
    expect(drawn.ratio! / direct.ratio!).toBeCloseTo(1, 10);
    // Bartlett's χ² is good to about 0.005 on 11 degrees of freedom a level; 4,999 draws add a standard error of 0.007 at most.
    expect(Math.abs(drawn.p - direct.byVariances!.p)).toBeLessThan(0.03);
  }
});

test("scatter that grows with size is offered as ratios, and nothing is said of even scatter", () => {
  const random = seededRandom(9);
  const grows = madeTrial(
    Array.from({ length: 36 }, (_, at) => ({
      settings: { edge: edges[at % 3] },
      block: Math.floor(at / 12) + 1,
      spots: [[[0.5, 1, 4][at % 3] * Math.exp(0.1 * random.normal())]],
    })),
    { factors },
  );
  expect(compareLevels(grows).notes.join(" ")).toMatch(/don't scatter alike.*compare as ratios/);
  expect(compareLevels(blocked(5, [0.1, 0.1, 0.1])).notes.join(" ")).not.toContain("scatter alike");
});
