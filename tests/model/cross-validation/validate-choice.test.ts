import { describe, expect, test } from "vitest";
import {
  bestWithinReach,
  fitJson,
  fitLinear,
  linesOrPowerLaw,
  observeTable,
  validateChoice,
} from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

/** Twelve runs of six two-level factors in shuffled order that do nothing, or of which a and b do. Seed given. */
function screening(seed: number, effect: number) {
  const random = seededRandom(seed);
  const names = ["a", "b", "c", "d", "e", "f"];
  const settings = names.map(() => random.shuffle([-1, -1, -1, -1, -1, -1, 1, 1, 1, 1, 1, 1]));
  const y = Array.from(
    { length: 12 },
    (_, i) => 10 + effect * (settings[0][i] + settings[1][i]) + random.normal(),
  );
  return observeTable(
    {
      columns: [
        ...names.map((name, k) => ({ name, unit: "", values: settings[k] })),
        { name: "y", unit: "µm", values: y },
      ],
    },
    { response: "y", factors: names },
  );
}

describe("a model that its own data chose", () => {
  test("of factors that do nothing, choosing anew misses runs by more than the model kept", () => {
    const told = validateChoice(screening(2, 0), bestWithinReach(), { how: "the best of many models" });
    expect(told.widening!).toBeGreaterThan(1.3);
    expect(told.fit.chosenFrom).toEqual({ how: "the best of many models", widening: told.widening });
    expect(told.fit.notes.at(-1)).toMatch(
      /^This model was chosen as the best of many models; its intervals know nothing of the choice and are too narrow: .* times as much as with this model kept\./,
    );
    expect(fitJson(told.fit).notes).toContain(told.fit.notes.at(-1));
  });

  test("of two factors that do everything, the same ones are chosen each time and the intervals stand", () => {
    const told = validateChoice(screening(3, 20), bestWithinReach({ mostTerms: 2 }), {
      how: "the best pair",
    });
    expect(told.widening!).toBeLessThan(1.05);
    expect(told.sentence).toContain("a and b were chosen every time.");
    expect(told.fit.notes.at(-1)).toContain("hardly too narrow");
  });

  test("a choice fixed beforehand costs nothing", () => {
    const observations = screening(4, 1);
    const told = validateChoice(observations, (rows, options) => fitLinear(rows, options), {
      how: "all main effects",
    });
    expect(told.widening).toBeCloseTo(1, 12);
    expect(told.predictiveSd).toBeCloseTo(told.keptSd!, 11);
  });

  test("lines or power law: errors are compared on the scale of the one that all runs choose", () => {
    const random = seededRandom(6);
    const feed = Array.from({ length: 12 }, (_, i) => [0.08, 0.16, 0.24][i % 3]);
    const table = {
      columns: [
        { name: "feed", unit: "mm/rev", values: feed },
        {
          name: "Ra",
          unit: "µm",
          values: feed.map((one) => 20 * one ** 2 * Math.exp(0.05 * random.normal())),
        },
      ],
    };
    const observations = observeTable(table, { response: "Ra", factors: ["feed"] });
    const told = validateChoice(observations, linesOrPowerLaw(), { how: "lines or power law" });
    expect(told.fit.kind).toBe("power-law");
    expect(told.widening!).toBeLessThan(1.2);
    expect(JSON.stringify(told)).not.toMatch(/NaN|Infinity/);
  });

  test("a fit that carries no widening says that it was not tried out", () => {
    const fit = fitLinear(screening(4, 1), { chosenFrom: { how: "a second stage" } });
    expect(fit.notes).toEqual([
      "This model was chosen as a second stage; its intervals know nothing of the choice and are too narrow, by how much was not tried out. Prove what matters with further runs.",
    ]);
  });
});
