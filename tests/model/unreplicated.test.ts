import { describe, expect, test } from "vitest";
import { fitLinear, observeTable } from "../../src/model/index.ts";
import { fitOf, workedExample } from "../reference/worked-example.ts";

describe("effects without replicates", () => {
  test("of the filtration example are Lenth's, active and inert", () => {
    const example = workedExample("filtration-2x2x2x2");
    const fit = fitOf(example, example.analyses[0]);
    // Lenth 1989 on Montgomery's example 6.2, recomputed with R: margins 6.74777731854534 and 13.6989595628024.
    expect(fit.unreplicated!.margin).toBeCloseTo(6.74777731854534, 11);
    expect(fit.unreplicated!.simultaneousMargin).toBeCloseTo(13.6989595628024, 10);
    expect(fit.noInterval).toContain("cut replicates");
    expect(fit.effects[0].value).toMatchObject({ reason: fit.noInterval });
    expect(fit.effects[0].sentence).toBe(
      "Raising A from −1 to 1 raises rate by 22 gal/h. It stands out from the other effects, which are all the measure of scatter there is.",
    );
    expect(fit.effects[1].sentence).toContain("It does not stand out");
  });

  test("are the same in natural units and with a category of two levels", () => {
    const example = workedExample("filtration-2x2x2x2");
    const coded = fitOf(example, example.analyses[0]);
    const columns = example.columns.map((column) =>
      column.name === "A"
        ? { ...column, values: column.values.map((value) => 20 + 5 * Number(value)) }
        : column.name === "B"
          ? { ...column, values: column.values.map((value) => (Number(value) < 0 ? "low" : "high")) }
          : column,
    );
    const natural = fitLinear(
      observeTable({ columns }, { response: "rate", factors: ["A", "B", "C", "D"] }),
      {
        terms: example.analyses[0].terms,
      },
    );
    natural.unreplicated!.effects.forEach(({ effect }, i) =>
      expect(effect).toBeCloseTo(coded.unreplicated!.effects[i].effect, 11),
    );
    expect(natural.unreplicated!.margin).toBeCloseTo(coded.unreplicated!.margin, 11);
  });

  test("are not judged while error is left, or where effects are not of one kind", () => {
    const example = workedExample("filtration-2x2x2x2");
    expect(fitOf(example, example.analyses[1]).unreplicated).toBeNull();
    const polynomial = fitLinear(
      observeTable(
        {
          columns: [
            { name: "x", unit: "", values: [1, 2, 3, 4] },
            { name: "y", unit: "", values: [1, 3, 2, 5] },
          ],
        },
        { response: "y", factors: ["x"] },
      ),
      { terms: [{ x: 1 }, { x: 2 }, { x: 3 }] },
    );
    expect(polynomial.residualDf).toBe(0);
    expect(polynomial.unreplicated).toBeNull();
  });
});
