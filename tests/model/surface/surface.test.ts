import { describe, expect, test } from "vitest";
import { fitLinear, observeTable } from "../../../src/model/index.ts";
import { seededRandom, symmetricEigen } from "../../../src/numerics/index.ts";
import { fitOf, workedExample } from "../../reference/worked-example.ts";

const grid = (rule: (x: number, z: number) => number, more: readonly number[] = [-1, 0, 1]) => {
  const points = more.flatMap((x) => more.map((z) => ({ x, z })));
  const noise = [0.01, -0.02, 0.015, 0.005, -0.01, 0.02, -0.005, -0.015, 0];
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: points.map(({ x }) => 0.16 + 0.08 * x) },
        { name: "speed", unit: "m/min", values: points.map(({ z }) => 300 + 100 * z) },
        { name: "Ra", unit: "µm", values: points.map(({ x, z }, i) => rule(x, z) + noise[i]) },
      ],
    },
    { response: "Ra", factors: ["feed", "speed"] },
  );
};

describe("surface", () => {
  test("finds the level point in natural units and the bend in coded ones", () => {
    const { surface } = fitLinear(
      grid((x, z) => 1 + (x - 0.25) ** 2 + 2 * (z + 0.5) ** 2),
      { model: "surface" },
    );
    expect(surface!.shape).toBe("minimum");
    expect(surface!.inside).toBe(true);
    expect(surface!.stationary!["feed"]).toBeCloseTo(0.16 + 0.08 * 0.25, 2);
    expect(surface!.stationary!["speed"]).toBeCloseTo(300 - 50, 0);
    expect(surface!.eigenvalues[0]).toBeCloseTo(2, 1);
    expect(surface!.eigenvalues[1]).toBeCloseTo(1, 1);
    expect(surface!.text).toMatch(
      /^Ra is lowest near feed 0\.1\d+ mm\/rev, speed 2\d+ m\/min, at 0\.99\d+ µm; that lies within what was cut\.$/,
    );
  });

  test("is the same whatever scale coefficients are told on", () => {
    const example = workedExample("yield-central-composite");
    const [natural, coded] = [false, true].map(
      (coded) => fitOf(example, example.analyses[0], { coded }).surface!,
    );
    expect(coded).toEqual(natural);
  });

  test("tells saddles, ridges and points outside as such", () => {
    expect(
      fitLinear(
        grid((x, z) => x ** 2 - z ** 2),
        { model: "surface" },
      ).surface!.shape,
    ).toBe("saddle");
    const outside = fitLinear(
      grid((x, z) => (x - 3) ** 2 + z ** 2),
      { model: "surface" },
    ).surface!;
    expect(outside.inside).toBe(false);
    expect(outside.text).toContain("outside what was cut and is no setting to trust");
  });

  test("is not told without squares of all quantities, nor where terms can't be told apart", () => {
    expect(
      fitLinear(
        grid((x) => x),
        { model: "interactions" },
      ).surface,
    ).toBeNull();
    expect(
      fitLinear(
        grid((x) => x),
        { terms: [{ feed: 1 }, { speed: 1 }, { feed: 2 }] },
      ).surface,
    ).toBeNull();
  });
});

describe("symmetricEigen", () => {
  test("takes drawn matrices apart and puts them together again", () => {
    const random = seededRandom(7);
    for (const n of [1, 2, 3, 6, 12]) {
      const raw = Array.from({ length: n }, () => Array.from({ length: n }, () => random.normal()));
      const matrix = raw.map((row, i) => row.map((value, j) => value + raw[j][i]));
      const { values, vectors } = symmetricEigen(matrix);
      const size = Math.max(...matrix.flat().map(Math.abs));
      for (let i = 0; i < n; i++) {
        if (i > 0) expect(values[i]).toBeLessThanOrEqual(values[i - 1]);
        for (let j = 0; j < n; j++) {
          const again = values.reduce((sum, value, k) => sum + value * vectors[k][i] * vectors[k][j], 0);
          // Rounding of n products of this size.
          expect(Math.abs(again - matrix[i][j])).toBeLessThan(1e-14 * n * n * size);
        }
      }
    }
  });
});
