import { expect, test } from "vitest";
import { chosenFit } from "../../src/bench/chosen-fit.ts";
import type { RecipeAnswer, RecipeNextAnswer } from "../../src/bench/recipe-api.ts";
import { recipeAnswer } from "../../src/bench/recipe-view.ts";
import { contourFigure } from "../../src/figure/index.ts";
import { jointRecipe, keptRegion } from "../../src/model/index.ts";
import { whatNext } from "../../src/review/index.ts";
import { openTrial } from "../../src/store/index.ts";
import { answer, withReadTrial, withTrial, withTwoLimits } from "./trial-under-test.ts";

const address = "/api/trials/two-limits/recipe";

async function libraryRecipe(
  root: string,
  responses: readonly string[],
  options: Parameters<typeof jointRecipe>[2],
) {
  const trial = await openTrial("two-limits", { root: `${root}/experiments` });
  const fits = responses.map((name) => chosenFit(trial, name, { model: "", confidence: "" }).fit);
  return { trial, fits, recipe: jointRecipe(trial, fits, options) };
}

test("what the panel shows is what the library's recipe, map, room and next passes say", async () => {
  const { get, root } = await withTwoLimits();
  const query = "limit.Ra=0.75&limit.flatness=5&assurance=90&for.flatness=mean";
  const shown = await answer<RecipeAnswer>(await get(`${address}?${query}`));
  const limits = {
    Ra: { limit: 0.75, assurance: 0.9 },
    flatness: { limit: 5, assurance: 0.9, for: "mean" as const },
  };
  const { trial, fits, recipe } = await libraryRecipe(root, ["Ra", "flatness"], { limits });
  expect(recipe.outcome).toBe("found");
  expect(shown.problems).toEqual([]);
  expect(shown.recipe?.settings.map(([name]) => name)).toEqual(["feed", "speed", "edge"]);
  expect(shown.recipe?.settings[0]?.[1]).toBe(`${recipe.settings["feed"]} mm/rev`);
  expect(shown.recipe?.sentences).toEqual(recipe.limits.map(({ text }) => text));
  expect(shown.recipe?.sentences[1]).toContain("with 90 % assurance");
  expect(Object.fromEntries(shown.recipe?.figures ?? [])).toMatchObject({
    "All limits together": "at least 80 % sure", // 1 − 2 · 0.1
  });
  expect(shown.recipe?.proof.map(({ rule }) => rule)).toEqual(
    recipe.proof.map(({ plan }) => (plan?.outcome === "found" ? plan.ruleText : "")),
  );
  expect(shown.recipe?.proof[0]?.chances).toMatch(/fails with chance .*; a bad one .* passes with chance /);
  expect(shown.recipe?.methods.join(" ")).toMatch(
    /Odeh and Owen.*Draper and Smith|Draper and Smith.*Odeh and Owen/s,
  );
  const map = contourFigure(trial, fits, { limits, at: recipe.settings, mark: recipe.settings });
  expect(shown.map).toMatchObject({ along: "feed", up: "speed", of: "Ra", refusal: "" });
  expect(shown.map?.figure).toContain(map.title);
  const next = await answer<RecipeNextAnswer>(await get(`${address}/next?${query}`));
  expect(next.sentences).toEqual(whatNext(trial, fits, { limits }).sentences);
  expect(next.room).toBe(keptRegion(trial, fits, { limits, assurance: 0.9 }).text);
});

test("a response without a limit is left out, and so is one whose limit is typed as none", async () => {
  const { get } = await withTwoLimits();
  const kept = async (query: string) =>
    (await answer<RecipeAnswer>(await get(`${address}?${query}`))).recipe?.sentences.map(
      (sentence) => sentence.split(":")[0],
    );
  expect(await kept("")).toEqual(["Ra"]);
  expect(await kept("limit.flatness=5")).toEqual(["Ra", "flatness"]);
  expect(await kept("limit.flatness=5&limit.Ra=none")).toEqual(["flatness"]);
  const without = await answer<RecipeAnswer>(await get(`${address}?limit.Ra=none`));
  expect(without.recipe).toBeNull();
  expect(without.refusal).toContain("type one");
});

test("a limit takes any unit, and per cent may be typed three ways", async () => {
  const { get } = await withTwoLimits();
  const recipe = async (query: string) =>
    (await answer<RecipeAnswer>(await get(`${address}?${query}`))).recipe;
  expect(await recipe("limit.Ra=0.762")).toEqual(await recipe(`limit.Ra=${encodeURIComponent("30 µin")}`)); // 30 · 0.0254
  expect(await recipe("assurance=90")).toEqual(await recipe("assurance=0.9"));
  expect(await recipe("assurance=90")).toEqual(await recipe(`assurance=${encodeURIComponent("90 %")}`));
});

test("each promise has its own bound: the mean lets more through than a share of parts, a fresh level more than any", async () => {
  const { get } = await withTwoLimits();
  const feed = async (query: string) => {
    const { recipe } = await answer<RecipeAnswer>(await get(`${address}?${query}`));
    return Number.parseFloat(recipe?.settings[0]?.[1] ?? "");
  };
  const share = await feed("");
  expect(await feed("for.Ra=mean")).toBeGreaterThanOrEqual(share);
  expect(await feed("share.Ra=99")).toBeLessThanOrEqual(share);
  expect(await feed("for.Ra=next&parts.Ra=500")).toBeLessThanOrEqual(await feed("for.Ra=next"));
  const held = await answer<RecipeAnswer>(await get(`${address}?hold.edge=used&hold.speed=1200`));
  expect(held.recipe?.settings.slice(1)).toEqual([
    ["speed", "1200 rev/min"],
    ["edge", "used"],
  ]);
});

test.each([
  ["limit.Ra", "smooth", "0.8"],
  ["limit.flatness", "3 rev/min", "µm"],
  ["assurance", "sure", "95"],
  ["assurance", "100", "95"],
  ["assurance", "30", "50"],
  ["share.Ra", "-1", "95"],
  ["parts.Ra", "2.5", "whole number"],
  ["hold.speed", "9000", "1000 rev/min to 2000 rev/min"],
  ["hold.edge", "blunt", "fresh or used"],
])("%s typed as %s is refused at its field, and says what is expected", async (field, typed) => {
  const { get, faults } = await withTwoLimits();
  const query = `for.Ra=${field.startsWith("parts") ? "next" : ""}&${field}=${encodeURIComponent(typed)}`;
  for (const path of [address, `${address}/next`]) {
    const response = await get(`${path}?${query}`);
    expect(response.status).toBe(200);
    if (path !== address) continue;
    const { problems, recipe, form } = await answer<RecipeAnswer>(response);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ field });
    expect(problems[0]?.message).toContain(typed);
    expect(problems[0]?.message).toMatch(/expected/);
    expect(recipe).toBeNull();
    expect(form.responses).toHaveLength(2);
  }
  expect(faults).toEqual([]);
});

test("a trial that can't tell removal pushes the feed and says why; one quantity has no map, in words", async () => {
  const { get } = await withReadTrial();
  const { form, recipe, map } = await answer<RecipeAnswer>(await get("/api/trials/seal-face/recipe"));
  expect(form.pushes).toEqual([["feed", "The largest feed"]]);
  expect(form.pushNote).toMatch(/^Removal and time can't be told/);
  expect(recipe?.settings[0]?.[0]).toBe("feed");
  expect(map).toMatchObject({
    figure: "",
    refusal: "A map needs two quantities, and the model has one: see Ra against feed above.",
  });
});

test("a trial without readings gives no recipe, with the reason at the limit", async () => {
  const { get } = await withTrial();
  const { problems } = await answer<RecipeAnswer>(await get("/api/trials/seal-face/recipe"));
  expect(problems).toHaveLength(1);
  expect(problems[0]?.field).toBe("limit.Ra");
  expect(problems[0]?.message).toContain("no reading in use of Ra");
});

test("a limit that no setting keeps says so, with what comes nearest, and offers no proof", async () => {
  const { get } = await withTwoLimits();
  const { recipe } = await answer<RecipeAnswer>(await get(`${address}?limit.Ra=0.05`));
  expect(recipe?.found).toBe(false);
  expect(recipe?.sentences[0]).toContain("No settings keep every limit");
  expect(recipe?.proof).toEqual([]);
  expect(JSON.stringify(recipe)).not.toMatch(/NaN|Infinity/);
});

test("a trial that changed no quantity is sent to where its levels are compared, in the page's words", async () => {
  const { refusal, recipe } = recipeAnswer(await openTrial("cover-edge-comparison"), {});
  expect(recipe).toBeNull();
  expect(refusal).toBe(
    "This trial changed only edge, and a recipe looks for the setting of a quantity. Which edge to take is told where the levels are compared.",
  );
});
