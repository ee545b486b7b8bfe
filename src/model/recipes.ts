import { passConditions } from "../cutting/index.ts";
import { factorNamed } from "../trial/index.ts";
import type { Setting, Trial } from "../trial/index.ts";
import { convert, dimensionOf, isUnit, readQuantity } from "../units/index.ts";
import type { Quantity } from "../units/index.ts";
import { modelError } from "./error.ts";
import type { Fit } from "./fit.ts";
import { largestSetting } from "./largest-setting.ts";
import type { PassFigures, Recipe, RecipeOptions, Recipes } from "./recipe.ts";
import { recipeTable } from "./recipe-table.ts";
import { recipeText } from "./recipe-text.ts";

/** More combinations of categories than this make no readable table. */
const mostCombinations = 64;

/**
 * The largest feed (or other quantity) that keeps the limit on the response with stated assurance, for the mean and for the next part, at
 * every combination of the categories that `at` leaves open; with minutes a pass and removal rate against today's setting.
 * The answer is rounded down to the factor's increment and judged again; see `largestSetting` for the bound and what is refused.
 * Example: `recipes(trial, fit, { limit: 0.8, factor: "feed" }).recipes[0].text` begins "Feed 0.16 mm/rev".
 */
export function recipes(trial: Trial, fit: Fit, options: RecipeOptions = {}): Recipes {
  const { spec } = trial;
  const response = spec.responses.find(({ name }) => name === fit.response.name);
  if (response === undefined)
    throw modelError(`a fit of ${fit.response.name}`, `a response of ${trial.name}`);
  const limit = limitOf(options.limit ?? response.limit, fit);
  const side =
    options.side ?? (response.aim === "smaller" ? "at-most" : response.aim === "larger" ? "at-least" : null);
  if (side === null)
    throw modelError(
      `${response.name}, which aims at a target`,
      'a side of the limit to keep: "at-most" or "at-least"',
    );
  const factor = options.factor ?? defaultFactor(fit);
  const today = todayOf(trial, options.today);
  const given = factorNamed(spec, factor);
  const increment = given.kind === "quantity" ? given.increment : undefined;
  const reference = today === null ? null : { settings: today, ...passFigures(trial, fit, today) };

  const found: Recipe[] = [];
  for (const at of combinations(fit, factor, { ...todaysQuantities(today, factor, fit), ...options.at })) {
    for (const whom of options.for === undefined ? (["mean", "next-part"] as const) : [options.for]) {
      const answer = largestSetting(fit, {
        factor,
        limit,
        side,
        for: whom,
        at,
        ...(options.assurance === undefined ? {} : { assurance: options.assurance }),
        ...(increment === undefined ? {} : { increment }),
        ...(options.extrapolate === undefined ? {} : { extrapolate: options.extrapolate }),
      });
      const figures =
        answer.setting === null
          ? { minutes: null, removalRateCm3PerMin: null }
          : passFigures(trial, fit, answer.settings);
      const recipe = {
        ...answer,
        ...figures,
        responseUnit: fit.response.unit,
        today: reference,
        minutesRatio: ratio(figures.minutes, reference?.minutes),
        removalRatio: ratio(figures.removalRateCm3PerMin, reference?.removalRateCm3PerMin),
      };
      found.push({ ...recipe, text: recipeText(recipe, trial, fit) });
    }
  }
  found.sort((a, b) => order(b) - order(a));
  return { recipes: found, table: recipeTable(found, trial, fit) };
}

function order(recipe: Recipe): number {
  if (recipe.setting === null) return -Infinity;
  return recipe.removalRateCm3PerMin ?? recipe.setting;
}

function limitOf(limit: number | Quantity | undefined, fit: Fit): number {
  if (limit === undefined)
    throw modelError(
      `no limit on ${fit.response.name}`,
      "a limit",
      "State it in the trial's response, or give it.",
    );
  if (typeof limit === "number") return limit;
  if (!isUnit(fit.response.unit))
    throw modelError(`a limit in ${limit.unit}`, `a number, since ${fit.response.name} has no unit`);
  return convert(limit.value, limit.unit, fit.response.unit);
}

/** The feed, by its unit, else the first quantity of the model. */
function defaultFactor(fit: Fit): string {
  const inModel = new Set(fit.terms.flatMap((term) => Object.keys(term)));
  const quantities = fit.factors.filter(({ kind, name }) => kind === "quantity" && inModel.has(name));
  const feed = quantities.find(
    ({ unit }) =>
      isUnit(unit) && ["feed per revolution", "feed per tooth", "feed speed"].includes(dimensionOf(unit)),
  );
  const chosen = feed ?? quantities[0];
  if (chosen !== undefined) return chosen.name;
  throw modelError("a fit without a quantity", "a model with a quantity whose setting can be pushed");
}

/** Today's settings as numbers in the factors' units and level names; null where none are stated. */
export function todayOf(
  { spec }: Trial,
  given: RecipeOptions["today"],
): Readonly<Record<string, Setting>> | null {
  const stated = given ?? spec.today;
  if (stated === undefined || Object.keys(stated).length === 0) return null;
  return Object.fromEntries(
    Object.entries(stated).map(([name, setting]): [string, Setting] => {
      const factor = factorNamed(spec, name);
      if (factor.kind === "category" || typeof setting === "number") return [name, setting];
      const answer = readQuantity(setting, { unit: factor.unit });
      if (answer.kind !== "value")
        throw modelError(`today's ${name} "${setting}"`, `a quantity such as "${factor.low} ${factor.unit}"`);
      return [name, convert(answer.value.value, answer.value.unit, factor.unit)];
    }),
  );
}

/** Other quantities stand at today's settings where these were cut, so that the comparison changes one thing. */
function todaysQuantities(
  today: Readonly<Record<string, Setting>> | null,
  factor: string,
  fit: Fit,
): Record<string, Setting> {
  return Object.fromEntries(
    Object.entries(today ?? {}).filter(([name, setting]) => {
      const observed = fit.factors.find((one) => one.name === name);
      if (observed?.kind !== "quantity" || name === factor || typeof setting !== "number") return false;
      return (
        fit.rows.some((row) => Number(row.settings[name]) <= setting) &&
        fit.rows.some((row) => Number(row.settings[name]) >= setting)
      );
    }),
  );
}

/** Every combination of the categories of the model that are left open. */
function combinations(
  fit: Fit,
  factor: string,
  at: Readonly<Record<string, Setting>>,
): readonly Readonly<Record<string, Setting>>[] {
  const inModel = new Set(fit.terms.flatMap((term) => Object.keys(term)));
  let all: Readonly<Record<string, Setting>>[] = [at];
  for (const { name, kind, levels } of fit.factors) {
    if (kind !== "category" || !inModel.has(name) || Object.hasOwn(at, name) || name === factor) continue;
    const cut = levels.filter((level) => fit.rows.some((row) => row.settings[name] === level));
    all = cut.flatMap((level) => all.map((one) => ({ ...one, [name]: level })));
  }
  if (all.length > mostCombinations)
    throw modelError(
      `${all.length} combinations of categories`,
      `${mostCombinations} at most`,
      "Fix some of them with at.",
    );
  return all;
}

function passFigures({ spec }: Trial, fit: Fit, settings: Readonly<Record<string, Setting>>): PassFigures {
  const full = fit.predict(settings).at;
  const { minutes, removalRateCm3PerMin } = passConditions(spec, full);
  return { minutes, removalRateCm3PerMin };
}

export function ratio(value: number | null, today: number | null | undefined): number | null {
  return value === null || today === null || today === undefined || today === 0 ? null : value / today;
}
