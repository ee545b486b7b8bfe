import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { publish, recipeAskedByTrial } from "../../src/finding/index.ts";
import { fitPowerLaw, jointRecipe } from "../../src/model/index.ts";
import type { Trial } from "../../src/trial/index.ts";
import { reading, rippled, sealFace, trialOf } from "./trials.ts";

const date = "2026-11-25";
const documentOf = (html: string): Document => parseHTML(html).document;
const text = (document: Document, selector: string): string =>
  document.querySelector(selector)?.textContent ?? "";

/** Feed and speed, so that there is a map; a second response of its own. */
const twoLimits = (): Trial =>
  trialOf(
    {
      factors: [
        {
          name: "feed",
          kind: "quantity",
          unit: "mm/rev",
          low: 0.08,
          high: 0.24,
          scale: "log",
          increment: 0.01,
        },
        { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000, increment: 100 },
      ],
      responses: [
        { name: "Ra", unit: "µm", limit: 0.8 },
        { name: "flatness", unit: "µm", limit: 6 },
        { name: "bore", unit: "mm", aim: "target", limit: 20 },
      ],
      layout: { kind: "factorial", replicates: 3, centrePoints: 2, seed: 7 },
    },
    (run) => [
      reading(run.run, Number(rippled(run).toFixed(3))),
      reading(
        run.run,
        Number((2 + Number(run.settings.speed) / 500 + 0.1 * Math.cos(5 * run.run)).toFixed(3)),
        { response: "flatness" },
      ),
    ],
  );

describe("the recipe of a published page", () => {
  const trial = twoLimits();
  const page = documentOf(publish(trial, { date }).html);
  const asked = recipeAskedByTrial(trial, { assurance: 0.95 });
  const fits = ["Ra", "flatness"].map((response) => fitPowerLaw(trial, { response }));
  const recipe = jointRecipe(trial, fits, {
    limits: { Ra: { limit: 0.8 }, flatness: { limit: 6 } },
    objective: "removal",
  });

  test("keeps the trial's limits together, with whom each holds for, its margin, what binds and what it comes to", () => {
    expect(Object.keys(asked.limits)).toEqual(["Ra", "flatness"]); // A target is no limit.
    expect(recipe.outcome).toBe("found");
    const answer = text(page, "#recipe .answer-block");
    expect(answer).toContain(
      "Recipe for Ra at or below 0.8 µm (31.5 µin) and flatness at or below 6 µm (236.2 µin)",
    );
    expect(answer).toContain(`Set feed ${recipe.settings["feed"]} mm/rev (`);
    for (const limit of recipe.limits) {
      expect(limit.text).toMatch(/: 95 % of parts at or below .* with 95 % assurance \(bound .* inside\)\.$/);
      expect(answer).toContain(limit.text);
    }
    expect(answer).toMatch(
      /Removal: .* cm³\/min.*A pass takes: .* min.*What binds: .*All limits together: at least 90 % sure/s,
    ); // 1 − 2 · 0.05
  });

  test("tells the rule of the proof runs with both chances of being wrong, the map, and the methods", () => {
    const told = text(page, "#recipe");
    const plans = recipe.proof.flatMap(({ plan }) => (plan?.outcome === "found" ? [plan] : []));
    expect(plans).toHaveLength(2);
    for (const plan of plans) {
      expect(told).toContain(plan.ruleText);
      expect(plan.chancesText).toMatch(/fails with chance .*; a bad one .* passes with chance /);
      expect(told).toContain(plan.chancesText);
    }
    expect(page.querySelectorAll('#recipe svg[data-figure="contours"]')).toHaveLength(1);
    expect(told).toContain("Odeh and Owen 1980");
    expect(told).toContain("Owen 1968");
  });

  test("is the one that was asked for, where something was", () => {
    const mean = documentOf(
      publish(trial, { date, recipe: { limits: { Ra: { limit: 0.7, for: "mean", assurance: 0.99 } } } }).html,
    );
    const answer = text(mean, "#recipe .answer-block");
    expect(answer).toContain("Recipe for Ra at or below 0.7 µm");
    expect(answer).toContain("Ra: the median at or below 0.7 µm with 99 % assurance");
    expect(answer).not.toContain("flatness");
  });

  test("where no setting keeps the limits says so, with what comes nearest, and no proof", () => {
    const none = documentOf(publish(trial, { date, recipe: { limits: { Ra: { limit: 0.05 } } } }).html);
    expect(text(none, "#recipe .answer-block")).toMatch(
      /^No recipe for Ra at or below 0\.05 µm.*No settings keep every limit: .*can't be promised.*Nearest: feed /s,
    );
    expect(text(none, "#recipe")).not.toContain("Proof runs");
  });

  test("names a limit whose response has no model, and keeps the others", () => {
    const readings = trial.readings.filter(({ response }) => response === "Ra");
    const half = documentOf(publish({ ...trial, readings }, { date }).html);
    expect(text(half, "#recipe")).toContain(
      "The limit on flatness is not looked after: there is no model of it.",
    );
    expect(text(half, "#recipe .answer-block")).toContain("Recipe for Ra at or below 0.8 µm");
  });
});

test("a page without a limit has no recipe, and one without a quantity says why", () => {
  const without = documentOf(publish(sealFace({ responses: [{ name: "Ra", unit: "µm" }] }), { date }).html);
  expect(without.querySelector("#recipe")).toBeNull();
  const edges = trialOf(
    {
      factors: [{ name: "edge", kind: "category", levels: ["fresh", "used"] }],
      layout: { kind: "factorial", replicates: 4, seed: 1 },
    },
    (run) => [reading(run.run, 0.5 + 0.02 * Math.sin(run.run))],
  );
  expect(text(documentOf(publish(edges, { date }).html), "#recipe")).toContain(
    "This trial changed only edge, and a recipe looks for the setting of a quantity.",
  );
});
