import { ModelError, recipeTold, type Fit, type JointRecipe, type RecipeTold } from "../../model/index.ts";
import type { Trial } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import type { FittedResponse } from "../fitted-response.ts";
import type { Part, Section } from "../part.ts";
import { nothingToSet, recipeFor, type RecipeAsked } from "../recipe-asked.ts";
import { recipeMap } from "../recipe-map.ts";
import { inBothSystems } from "../words.ts";

/**
 * Which settings keep the limits: what to set and what binds, each limit with whom it holds for and its margin, the map of the kept ground, and the rule of the proof runs
 * with both chances of being wrong. The same recipe, told by the same function, as on the bench's panel. Left out where no limit is to be kept.
 */
export function recipeSection(trial: Trial, fitted: readonly FittedResponse[], asked: RecipeAsked): Section {
  const wanted = fitted.filter(({ response }) => asked.limits[response.name] !== undefined);
  const fits = wanted.flatMap(({ fit }) => (fit === null ? [] : [fit]));
  const without = wanted.filter(({ fit }) => fit === null).map(({ response }) => response.name);
  const left: readonly Part[] =
    without.length === 0
      ? []
      : [
          {
            kind: "text",
            text: `The limit on ${listed(without)} is not looked after: there is no model of ${without.length === 1 ? "it" : "them"}.`,
          },
        ];
  return {
    id: "recipe",
    title: "Which settings keep the limits",
    parts: [...left, ...(fits.length === 0 ? [] : partsOf(trial, fits, asked))],
  };
}

function partsOf(trial: Trial, fits: readonly Fit[], asked: RecipeAsked): readonly Part[] {
  const nothing = nothingToSet(trial);
  if (nothing !== "") return [{ kind: "text", text: nothing }];
  const names = fits.map(({ response }) => response.name);
  const limits = Object.fromEntries(Object.entries(asked.limits).filter(([name]) => names.includes(name)));
  let recipe: JointRecipe;
  try {
    recipe = recipeFor(trial, fits, { ...asked, limits });
  } catch (error) {
    // A trial without scatter, or with every quantity held, has no setting to look for; that is said, and the rest of the page stands.
    if (!(error instanceof ModelError)) throw error;
    return [{ kind: "text", text: `No recipe for ${listed(names)}: ${error.message}` }];
  }
  const told = recipeTold(recipe, trial.spec, { system: "both" });
  const map = recipeMap(trial, fits, { recipe, limits, asked: asked.map ?? {} });
  return [
    { kind: "answer", tag: tagOf(recipe), texts: answerOf(told) },
    { kind: "table", caption: "Each limit at these settings.", table: recipe.table },
    ...(map.figure === null ? [] : [{ kind: "figure", figure: map.figure, caption: map.caption } as const]),
    ...proofParts(told),
    ...told.notes.map((text): Part => ({ kind: "quiet", text })),
    {
      kind: "quiet",
      text: "A recipe that holds here may not hold on another machine: prove it before production parts.",
    },
    {
      kind: "folded",
      summary: "Methods and sources",
      parts: [{ kind: "list", items: [...told.methods, ...told.proofMethods] }],
    },
  ];
}

/** "Recipe for Ra at or below 0.8 µm (31.5 µin)", for readers of either system. */
function tagOf({ outcome, limits }: JointRecipe): string {
  const all = limits.map(
    ({ response, side, limit, unit }) =>
      `${response} ${side === "at-most" ? "at or below" : "at or above"} ${inBothSystems(limit, unit)}`,
  );
  return `${outcome === "found" ? "Recipe" : "No recipe"} for ${listed(all)}`;
}

function answerOf({ found, settings, figures, sentences }: RecipeTold): readonly string[] {
  const place = settings.map(([name, text]) => `${name} ${text}`).join(", ");
  const comesTo = figures.map(([name, text]) => `${name}: ${text}.`).join(" ");
  return [
    ...(found ? [`Set ${place}.`] : []),
    ...sentences,
    ...(found ? [comesTo] : [`Nearest: ${place}.`]),
  ].filter((text) => text !== "");
}

function proofParts({ proof }: RecipeTold): readonly Part[] {
  if (proof.length === 0) return [];
  return [
    { kind: "sub-heading", text: "Proof runs, by a rule decided beforehand" },
    ...proof.flatMap(({ response, runs, rule, chances, why, none }): readonly Part[] =>
      none === ""
        ? [
            { kind: "text", text: `${response}, ${runs}: ${rule} ${chances}` },
            ...(why === "" ? [] : [{ kind: "quiet", text: why } as const]),
          ]
        : [{ kind: "text", text: `${response}: ${none}` }],
    ),
  ];
}
