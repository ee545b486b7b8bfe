import type { Setting, Trial } from "../../trial/index.ts";
import { formatNumber } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { RecipeOptions } from "../recipe.ts";
import { percent } from "../words.ts";
import { boundMultiple } from "./bound-multiple.ts";
import { decisionOf } from "./decision.ts";
import { checkedWish, liked, overallDesirability, type Wish } from "./desirability.ts";
import { gridSearch } from "./grid-search.ts";
import { capital, settingsText, valueText } from "./joint-recipe-text.ts";
import { dfFor } from "./point-evaluator.ts";
import { settingsAt, type PassScore } from "./pass-score.ts";
import type { SpaceOptions } from "./search-space.ts";

export interface MostDesirableOptions extends SpaceOptions {
  /** By response; every fit needs one. */
  readonly wishes: Readonly<Record<string, Wish>>;
  /** Of the likings' lower end, all together. Default 0.95. */
  readonly assurance?: number;
  readonly today?: RecipeOptions["today"];
}

/** The settings that are liked best overall. */
export interface MostDesirable {
  readonly settings: Readonly<Record<string, Setting>>;
  /** From the estimates. */
  readonly overall: number;
  /** With the means at their worse ends, all together with `assurance` (Bonferroni). */
  readonly overallAssured: number;
  readonly assurance: number;
  readonly responses: readonly {
    readonly response: string;
    readonly estimate: number;
    readonly liking: number;
    /** With the mean at its worse end. */
    readonly likingAssured: number;
  }[];
  readonly exact: boolean;
  readonly notes: readonly string[];
  readonly text: string;
}

/**
 * The settings whose overall liking (`overallDesirability` of the estimated means) is the largest on the machine's increments, with what is left of it when the means lie
 * at their worse ends. Use it where responses pull apart and no limit decides; where limits do, `jointRecipe` and `keptRegion` say more, since a liking has no
 * unit and hides which response pays.
 * Refused: a fit without a wish, and what `jointRecipe` refuses. Example: `mostDesirable(trial, fits, { wishes }).overall` is 0.62.
 */
export function mostDesirable(
  trial: Trial,
  fits: readonly Fit[],
  options: MostDesirableOptions,
): MostDesirable {
  const { wishes: given, assurance = 0.95, ...rest } = options;
  if (!(assurance >= 0.5 && assurance < 1))
    throw modelError(`an assurance of ${assurance}`, "a number from 0.5 to below 1, such as 0.95");
  const wishes = fits.map(({ response: { name } }) => {
    const wish = Object.hasOwn(given, name) ? given[name] : undefined;
    if (wish === undefined) throw modelError(`no wish for ${name}`, "a wish for every fitted response");
    return checkedWish(wish);
  });
  // A wish is no limit: the bad value stands in where one is asked for, and is judged by nobody.
  const limits = Object.fromEntries(
    fits.map(({ response, logScale }, k) => [
      response.name,
      { limit: logScale ? 1 : wishes[k].bad[1], side: "at-most" as const, for: "mean" as const },
    ]),
  );
  const decision = decisionOf(trial, fits, { ...rest, limits, needsObjective: false });
  const { space, evaluators } = decision;
  const out = new Float64Array(4);
  const at = (k: number, point: Float64Array): number => {
    evaluators[k].evaluate(point, out);
    return evaluators[k].logScale ? Math.exp(out[0]) : out[0];
  };
  const total = wishes.reduce((sum, { importance }) => sum + importance, 0);
  const scores = space.combinations.map((held, which): PassScore => {
    const points = evaluators.map((evaluator) => {
      const point = evaluator.centre();
      for (const [name, setting] of Object.entries(held)) evaluator.set(point, name, setting);
      return point;
    });
    const slots = evaluators.map((evaluator) => space.axes.map(({ name }) => evaluator.slotOf(name)));
    const coordinates = evaluators.map((evaluator, k) =>
      space.axes.map(({ name, settings }, i) =>
        slots[k][i] < 0 ? [] : Array.from(settings, (setting) => evaluator.coordinate(name, setting)),
      ),
    );
    const score = (place: Int32Array): number => {
      let logarithm = 0;
      for (let k = 0; k < points.length; k++) {
        for (let i = 0; i < place.length; i++)
          if (slots[k][i] >= 0) points[k][slots[k][i]] = coordinates[k][i][place[i]];
        const { aim, good, bad, weight, importance } = wishes[k];
        const value = at(k, points[k]);
        if (decision.withinCut && out[1] > evaluators[k].farthest * (1 + 1e-6)) return 0;
        logarithm += importance * Math.log(liked(value, aim, good, bad, weight));
      }
      return Math.exp(logarithm / total);
    };
    return { score, isAllowed: decision.scores[which].isAllowed };
  });
  const end = gridSearch(space, [], scores);
  const settings = settingsAt(space, end.which, end.place);
  const each = 1 - (1 - assurance) / fits.length;
  const responses = fits.map(({ response }, k) => {
    const evaluator = evaluators[k];
    const point = evaluator.centre();
    for (const [name, setting] of Object.entries(settings)) evaluator.set(point, name, setting);
    const estimate = at(k, point);
    const promise = { for: "mean", share: 0.95, parts: 1, assurance: each } as const;
    const half = (evaluator.sd ?? 0) * boundMultiple(promise, out[1], dfFor("mean", evaluator, out));
    const moved = (by: number): number => (evaluator.logScale ? estimate * Math.exp(by) : estimate + by);
    const { aim, good, bad, weight } = wishes[k];
    const liking = (value: number): number => liked(value, aim, good, bad, weight);
    return {
      response: response.name,
      estimate,
      liking: liking(estimate),
      likingAssured: Math.min(liking(moved(half)), liking(moved(-half))),
    };
  });
  const importance = wishes.map((wish) => wish.importance);
  const overall = overallDesirability(
    responses.map(({ liking }) => liking),
    importance,
  );
  const overallAssured = overallDesirability(
    responses.map(({ likingAssured }) => likingAssured),
    importance,
  );
  const figure = (value: number): string => formatNumber(Number(value.toFixed(2)));
  const told = responses
    .map(
      (one, k) =>
        `${one.response} ${valueText(one.estimate, fits[k].response.unit, trial)} (${figure(one.liking)})`,
    )
    .join(", ");
  const text =
    overall === 0
      ? "No setting that was searched is of any use for every response: each has one at or beyond its bad value."
      : `${capital(settingsText(settings, trial))} is liked best, ${figure(overall)} of 1: ${told}. With every mean at its worse end, ${percent(assurance)} sure together, ${figure(overallAssured)} is left.`;
  return {
    settings,
    overall,
    overallAssured,
    assurance,
    responses,
    exact: end.exact,
    notes: decision.notes,
    text,
  };
}
