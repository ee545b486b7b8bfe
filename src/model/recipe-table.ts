import { formatNumber } from "../units/index.ts";
import type { Trial } from "../trial/index.ts";
import type { Fit } from "./fit.ts";
import type { Recipe, Recipes } from "./recipe.ts";
import { otherSettings, responseText, settingOf } from "./recipe-text.ts";

/** The recipes as rows for a page: one a setting, with the bound that it was judged by and what it gains. */
export function recipeTable(recipes: readonly Recipe[], trial: Trial, fit: Fit): Recipes["table"] {
  const columns = [
    "largest",
    "at",
    "for",
    "estimate",
    "bound",
    "minutes a pass",
    "removal [cm³/min]",
    "removal against today",
    "note",
  ];
  const rows = recipes.map((recipe) => [
    recipe.setting === null ? "none" : `${recipe.factor} ${settingOf(recipe.factor, recipe.setting, trial)}`,
    otherSettings(recipe.settings, recipe.factor, trial, fit),
    recipe.for === "mean" ? (fit.logScale ? "the median" : "the mean") : "the next part",
    responseText(recipe.estimate, trial, fit),
    recipe.bound === null ? null : responseText(recipe.bound, trial, fit),
    recipe.minutes === null ? null : formatNumber(recipe.minutes, { digits: 3 }),
    recipe.removalRateCm3PerMin === null ? null : formatNumber(recipe.removalRateCm3PerMin, { digits: 3 }),
    recipe.removalRatio === null ? null : `${formatNumber(recipe.removalRatio, { digits: 3 })} times`,
    note(recipe),
  ]);
  // Columns that no recipe fills are left off.
  const used = columns.map((_, k) => rows.some((row) => row[k] !== null && row[k] !== ""));
  return {
    columns: columns.filter((_, k) => used[k]),
    rows: rows.map((row) => row.filter((_, k) => used[k])),
  };
}

function note({ reason, extrapolation }: Recipe): string {
  const outside =
    extrapolation.length === 0 ? "" : `extrapolation: ${extrapolation.join(", ")} outside what was cut`;
  return [reason, outside].filter((part) => part !== "").join("; ");
}
