import { describe, expect, test } from "vitest";
import { compareLevels, equivalence, isInterval, observeTable } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

/** Runs of several levels with one scatter, drawn anew. */
function drawn(means: readonly number[], runs: number, normal: () => number) {
  const rows = means.flatMap((mean, level) =>
    Array.from({ length: runs }, () => ({ edge: `edge ${level + 1}`, value: mean + normal() })),
  );
  const column = (name: string, values: readonly (string | number)[]) => ({ name, unit: "", values });
  return observeTable(
    {
      columns: [
        column(
          "edge",
          rows.map(({ edge }) => edge),
        ),
        column(
          "y",
          rows.map(({ value }) => value),
        ),
      ],
    },
    { response: "y", factors: ["edge"] },
  );
}

/** Three and a half standard errors of a share in so many trials; ten thousand trials of each stand in tests/coverage. */
const trials = 400;
const allowed = (share: number): number => 3.5 * Math.sqrt((share * (1 - share)) / trials);

describe("false alarms in drawn trials", () => {
  test("of four levels alike some pair is called different one time in twenty, where plain t would call it one time in five", () => {
    const random = seededRandom(411);
    let [together, plain] = [0, 0];
    for (let trial = 0; trial < trials; trial++) {
      const { pairs } = compareLevels(drawn([10, 10, 10, 10], 4, () => random.normal()));
      if (pairs.some(({ value }) => isInterval(value) && (value.low > 0 || value.high < 0))) together++;
      // R 4.2: qt(0.975, 12) is 2.178813.
      const passes = pairs.some(
        ({ value, standardError }) => Math.abs(value.estimate!) > 2.178813 * standardError!,
      );
      if (passes) plain++;
    }
    expect(Math.abs(together / trials - 0.05)).toBeLessThan(allowed(0.05));
    // R 4.2: 1 - ptukey(qt(0.975, 12) * sqrt(2), 4, 12) is 0.1843.
    expect(Math.abs(plain / trials - 0.1843)).toBeLessThan(allowed(0.1843));
  });

  test("two levels that differ by the margin are called alike one time in twenty", () => {
    const random = seededRandom(412);
    let alike = 0;
    for (let trial = 0; trial < trials; trial++) {
      const observations = drawn([10, 12], 8, () => random.normal());
      if (equivalence(observations, { margin: 2 }).pairs[0].verdict === "within") alike++;
    }
    expect(Math.abs(alike / trials - 0.05)).toBeLessThan(allowed(0.05));
  });
});
