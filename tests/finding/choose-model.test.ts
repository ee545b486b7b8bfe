import { describe, expect, test } from "vitest";
import { chooseModel, fitAsPlanned } from "../../src/finding/index.ts";
import { fitPowerLaw, observe, termsOf } from "../../src/model/index.ts";
import { reading, rippled, sealFace, trialOf } from "./trials.ts";

const linearFeed = { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.14 };
const speed = { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 1500 };
const edge = { name: "edge", kind: "category", levels: ["fresh", "used"] };

const chosen = (parts: Readonly<Record<string, unknown>>, value: (run: number, edge: unknown) => number) =>
  chooseModel(
    observe(
      trialOf(parts, (run) => [reading(run.run, value(run.run, run.settings.edge))]),
      "Ra",
    ),
  );

describe("the model of a page is chosen by the plan", () => {
  test("a quantity laid out in ratios and positive readings: a power law", () => {
    expect(chooseModel(observe(sealFace(), "Ra"))).toEqual({
      model: "power-law",
      log: true,
      reason:
        "Ra and every quantity are above zero, and feed was laid out in ratios: a power law fits the physics of cutting, and its effects read as ratios.",
    });
  });

  test("a quantity cut over a ratio of 2 or more: a power law", () => {
    const wide = { ...linearFeed, high: 0.2 };
    const parts = { factors: [wide, edge], layout: { kind: "factorial", replicates: 2, seed: 1 } };
    expect(chosen(parts, (run) => 0.5 + 0.01 * run).reason).toContain("feed was cut over a ratio of 2:");
  });

  test("runs laid out for a surface: products and squares of the logarithms, if error is left", () => {
    const factors = [
      { ...linearFeed, high: 0.3, scale: "log" },
      { ...speed, high: 3000, scale: "log" },
    ];
    const trial = (parts: Readonly<Record<string, unknown>>) =>
      trialOf({ factors, layout: { kind: "central-composite", seed: 1, ...parts } }, (run) => [
        reading(run.run, 0.5 + 0.01 * run.run),
      ]);
    const choice = (of: ReturnType<typeof trial>) =>
      chooseModel(observe(of, "Ra"), { layout: of.spec.layout });
    expect(choice(trial({ centrePoints: 5 }))).toEqual({
      model: "bent-power-law",
      log: true,
      reason:
        "Ra and every quantity are above zero, and feed was laid out in ratios: a power law fits the physics of cutting, and its effects read as ratios. The runs were laid out for a surface, so products and squares of the logarithms are fitted too.",
    });
    // 8 runs and one centre point leave 3 degrees of freedom beside 6 coefficients.
    expect(choice(trial({ centrePoints: 1 })).model).toBe("power-law");
    const planned = trial({ centrePoints: 5 });
    const { fit } = fitAsPlanned(planned, { response: "Ra", ...choice(planned), chosen: true });
    const terms = termsOf("surface", observe(planned, "Ra").factors);
    expect(fit.coefficients).toEqual(fitPowerLaw(planned, { response: "Ra", terms }).coefficients);
    expect(fit.surface).not.toBeNull();
  });

  test("a reading at or below zero: linear", () => {
    expect(
      chooseModel(
        observe(
          trialOf({}, (run) => [reading(run.run, rippled(run) - 0.5)]),
          "Ra",
        ),
      ).model,
    ).not.toBe("power-law");
  });

  test("narrow ranges, two settings, replicates: products as well", () => {
    const parts = { factors: [linearFeed, speed], layout: { kind: "factorial", replicates: 2, seed: 1 } };
    expect(chosen(parts, (run) => 0.5 + 0.01 * run)).toEqual({
      model: "interactions",
      log: false,
      reason:
        "8 runs leave 4 degrees of freedom for error beside every product of two factors, so products are fitted too.",
    });
  });

  test("narrow ranges without replicates: each factor by itself", () => {
    const parts = { factors: [linearFeed, speed], layout: { kind: "factorial", seed: 1 } };
    expect(chosen(parts, (run) => 0.5 + 0.01 * run)).toEqual({
      model: "main",
      log: false,
      reason: "4 runs leave too little error to judge more by, so each factor is fitted by itself.",
    });
  });

  test("three settings of each quantity and runs enough: squares as well", () => {
    const levels = (factor: typeof linearFeed, middle: number) => ({
      ...factor,
      levels: [factor.low, middle, factor.high],
    });
    const parts = {
      factors: [levels(linearFeed, 0.12), levels(speed, 1250)],
      layout: { kind: "factorial", replicates: 2, seed: 1 },
    };
    expect(chosen(parts, (run) => 0.5 + 0.01 * run).model).toBe("surface");
  });

  test("categories only: the logarithm where the response spans a ratio of 3", () => {
    const parts = { factors: [edge], layout: { kind: "factorial", replicates: 4, seed: 1 } };
    expect(chosen(parts, (run) => 0.5 + 0.01 * run)).toEqual({
      model: "main",
      log: false,
      reason: "The plan asks for no more, so each factor is fitted by itself.",
    });
    const spanning = trialOf(parts, (run) => [
      reading(run.run, (run.settings.edge === "used" ? 2 : 0.5) + 0.01 * run.run),
    ]);
    const choice = chooseModel(observe(spanning, "Ra"));
    expect(choice).toMatchObject({ model: "main", log: true });
    // The readings had a say, so the fit says that they chose it.
    expect(choice.chosenFrom!.how).toMatch(/^the logarithm, because these same readings span a ratio of 4/);
    const { fit } = fitAsPlanned(spanning, { ...choice, response: "Ra" });
    expect(fit.notes.at(-1)).toContain(choice.chosenFrom!.how);
  });
});
