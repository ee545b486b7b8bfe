import { describe, expect, test } from "vitest";
import { fitLinear, observeTable } from "../../src/model/index.ts";
import { fTail } from "../../src/numerics/index.ts";
import { fitOf, workedExample } from "../reference/worked-example.ts";

const table = (
  columns: Readonly<Record<string, readonly (number | string)[]>>,
  factors: readonly string[],
  block?: string,
) =>
  observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    { response: "y", factors, block },
  );

describe("lack of fit", () => {
  test("sets what a line leaves over against the scatter of exact replicates", () => {
    const fit = fitLinear(table({ x: [1, 1, 2, 2, 3, 3], y: [1, 1.2, 3, 3.2, 3, 3.4] }, ["x"]));
    // By hand: pure error 0.02 + 0.02 + 0.08 on 3 df; the means are 1.1, 3.1, 3.2.
    const lack = fit.lackOfFit!;
    expect(lack.sumOfSquaresPure).toBeCloseTo(0.12, 14);
    expect(lack).toMatchObject({ dfLack: 1, dfPure: 3 });
    // The second difference of the means, 3.2 − 2 · 3.1 + 1.1 = −1.9, squared, times 2 readings, over 1 + 4 + 1.
    expect(lack.sumOfSquaresLack).toBeCloseTo((2 * 1.9 ** 2) / 6, 13);
    expect(lack.f).toBeCloseTo(lack.sumOfSquaresLack / (0.12 / 3), 11);
    expect(lack.p).toBeCloseTo(fTail(lack.f, 1, 3), 14);
  });

  test("counts replicates over every observed factor, those left out of the model too", () => {
    const observations = table({ x: [1, 1, 2, 2], z: [1, 2, 1, 2], y: [1, 2, 3, 5] }, ["x", "z"]);
    const fit = fitLinear(observations, { terms: [{ x: 1 }] });
    expect(fit.lackOfFit).toBeNull();
    expect(fit.noLackOfFit).toBe(
      "No setting was cut twice, so there is no pure error to judge the fit against.",
    );
  });

  test("counts replicates within a block only, where blocks are fitted", () => {
    const columns = { day: ["a", "a", "a", "b", "b", "b"], x: [1, 1, 2, 1, 2, 2], y: [1, 1.2, 2, 3, 4, 4.4] };
    const inBlocks = fitLinear(table(columns, ["x"], "day"));
    const ignored = fitLinear(table(columns, ["x"], "day"), { block: "ignore" });
    expect(inBlocks.lackOfFit).toMatchObject({ dfPure: 2, dfLack: 1 });
    expect(inBlocks.lackOfFit!.sumOfSquaresPure).toBeCloseTo(0.02 + 0.08, 14);
    expect(ignored.noLackOfFit).toBe(
      "The model has a value of its own for every setting that was cut, so no lack of fit can show.",
    );
  });

  test("keeps its digits where readings share their leading ones", () => {
    const fit = fitLinear(
      table({ x: [1, 1, 2, 2, 3, 3], y: [1, 1.25, 3, 3.25, 3, 3.5].map((v) => v + 1e9) }, ["x"]),
    );
    expect(fit.lackOfFit!.sumOfSquaresPure).toBe(0.25 ** 2 + 0.5 ** 2 / 2);
  });

  test("is refused with its reason where replicates read exactly alike", () => {
    const fit = fitLinear(table({ x: [1, 1, 2, 2, 3, 3], y: [1, 1, 3, 3, 4, 4] }, ["x"]));
    expect(fit.noLackOfFit).toBe(
      "All replicates read exactly alike, so their scatter can't serve as a measure.",
    );
  });
});

describe("curvature", () => {
  test("is the corner mean less the centre mean against pure error", () => {
    const example = workedExample("centre-points-2x2");
    const { curvature } = fitOf(example, example.analyses[0]);
    // Montgomery, chapter 6: 40.425 − 40.46; SS 4 · 5 · 0.035²/9; pure error 0.0430 on 4 df.
    expect(curvature!.difference).toBeCloseTo(-0.035, 13);
    expect(curvature!.sumOfSquares).toBeCloseTo(0.0027222222222228, 13);
    expect(curvature!.f).toBeCloseTo(0.0633074935400646, 10);
    expect(curvature!.p).toBeCloseTo(0.813740848778061, 11);
    expect(curvature!.t ** 2).toBeCloseTo(curvature!.f, 13);
    expect(curvature!.df).toBe(4);
    expect(curvature!.low).toBeLessThan(curvature!.difference);
  });

  test("is not told where runs are neither corner nor centre, or centre points sit at one level of a category only", () => {
    const surface = workedExample("yield-central-composite");
    expect(fitOf(surface, surface.analyses[0]).curvature).toBeNull();
    const uneven = table(
      { x: [-1, 1, -1, 1, 0, 0], edge: ["a", "a", "b", "b", "a", "a"], y: [1, 2, 3, 5, 2, 2.2] },
      ["x", "edge"],
    );
    expect(fitLinear(uneven).curvature).toBeNull();
  });

  test("takes a middle that is as near as the machine could set it", () => {
    const near = table({ x: [45, 80, 45, 80, 62, 62], y: [1, 3, 1.2, 3.3, 2.4, 2.2] }, ["x"]);
    expect(fitLinear(near).curvature!.difference).toBeCloseTo(8.5 / 4 - 2.3, 14);
  });
});
