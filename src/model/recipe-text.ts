import { settingText } from "../trial/index.ts";
import type { Setting, Trial } from "../trial/index.ts";
import { formatNumber, formatQuantity, isUnit, quantity, listed } from "../units/index.ts";
import type { Fit } from "./fit.ts";
import { freshText } from "./fresh-text.ts";
import type { Recipe } from "./recipe.ts";
import { percent, unitText } from "./words.ts";

/** A recipe as a sentence: setting, what it keeps and how surely, what it gains, what to mind. */
export function recipeText(recipe: Omit<Recipe, "text">, trial: Trial, fit: Fit): string {
  const who = recipe.for === "mean" ? (fit.logScale ? "the median of" : "the mean of") : "the next part's";
  const averaged =
    recipe.for === "next-part" && fit.rows.some((row) => row.readings > 1)
      ? ", averaged over its readings,"
      : "";
  const own = recipe.for === "next-part" ? freshText(fit.evaluator?.().fresh ?? []) : "";
  const wanted = `${who} ${fit.response.name}${averaged}${own === "" ? "" : ` (cut ${own})`} ${recipe.side === "at-most" ? "at or below" : "at or above"} ${responseText(recipe.limit, trial, fit)} with ${percent(recipe.assurance)} assurance`;
  const others = otherSettings(recipe.settings, recipe.factor, trial, fit);
  const place = others === "" ? "" : ` (${others})`;
  if (recipe.outcome === "no-bound")
    return `No recipe for ${recipe.factor}${place} that keeps ${wanted}: ${recipe.reason}.`;
  const bound = recipe.bound === null ? "" : `; bound ${responseText(recipe.bound, trial, fit)}`;
  const range = `${settingOf(recipe.factor, recipe.range.low, trial)} to ${settingOf(recipe.factor, recipe.range.high, trial)}`;
  if (recipe.setting === null) {
    const best = settingOf(recipe.factor, recipe.settings[recipe.factor], trial);
    return `No ${recipe.factor} from ${range}${place} keeps ${wanted}: ${recipe.reason}. Nearest at ${best}${bound}.`;
  }
  const name = recipe.factor.charAt(0).toUpperCase() + recipe.factor.slice(1);
  const start = `${name} ${settingOf(recipe.factor, recipe.setting, trial)}${place} keeps ${wanted}${bound}.`;
  const reason = recipe.reason === "" ? "" : ` Note: ${recipe.reason}.`;
  const outside =
    recipe.extrapolation.length === 0
      ? ""
      : ` Extrapolation: ${listed(recipe.extrapolation)} outside what was cut; prove it first.`;
  return `${start}${gain(recipe)}${reason}${outside}`;
}

/** "edge used, speed 1000 rev/min": the factors of the model that stand still. */
export function otherSettings(
  settings: Readonly<Record<string, Setting>>,
  factor: string,
  trial: Trial,
  fit: Fit,
): string {
  const inModel = new Set(fit.terms.flatMap((term) => Object.keys(term)));
  return Object.entries(settings)
    .filter(([name]) => name !== factor && inModel.has(name))
    .map(([name, setting]) => `${name} ${settingOf(name, setting, trial)}`)
    .join(", ");
}

/** A setting with its unit, in the system that the trial shows. */
export function settingOf(name: string, setting: Setting, { spec }: Trial): string {
  const factor = spec.factors.find((one) => one.name === name);
  if (factor === undefined || typeof setting === "string") return String(setting);
  return settingText(factor, setting, spec.display);
}

/** A value of the response to three digits, in the system that the trial shows. */
export function responseText(value: number, { spec }: Trial, fit: Fit): string {
  const { unit } = fit.response;
  if (!isUnit(unit)) return `${formatNumber(value, { digits: 3 })}${unitText(unit)}`;
  return formatQuantity(quantity(Number(value.toPrecision(3)), unit), { system: spec.display });
}

function gain({ minutes, removalRateCm3PerMin, minutesRatio, removalRatio }: Omit<Recipe, "text">): string {
  const parts: string[] = [];
  if (minutes !== null)
    parts.push(`a pass takes ${formatNumber(minutes, { digits: 3 })} min${times(minutesRatio)}`);
  if (removalRateCm3PerMin !== null)
    parts.push(
      `removal is ${formatNumber(removalRateCm3PerMin, { digits: 3 })} cm³/min${times(removalRatio)}`,
    );
  if (parts.length === 0) return "";
  const text = listed(parts);
  return ` ${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

function times(ratio: number | null): string {
  return ratio === null ? "" : `, ${formatNumber(ratio, { digits: 3 })} times today's`;
}
