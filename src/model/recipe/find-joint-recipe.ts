import { extent } from "../../numerics/index.ts";
import { passConditions } from "../../cutting/index.ts";
import type { Setting, Trial } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { ModelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { proofOfRecipe } from "../proof-runs/proof-of-recipe.ts";
import type { PassFigures } from "../recipe.ts";
import { ratio } from "../recipes.ts";
import { decide, decisionOf } from "./decision.ts";
import type { JointRecipe, JointRecipeOptions, LimitKept, LimitProof } from "./joint-recipe.ts";
import { jointTable, jointText, limitSentence, valueText } from "./joint-recipe-text.ts";
import { keptLimits, stopsAt } from "./kept-limits.ts";
import { settingsAt } from "./pass-score.ts";

/**
 * The settings with the most removal (or the least time of a pass, or the largest product of quantities that are named) where limits on several fitted responses
 * are all kept, each with stated assurance: for the mean, for a share of parts, or for each of the next n parts.
 *
 * Use it where one limit on one response is not the whole question. All quantities of the models are searched at once (1 to 6), on the machine's increments, within
 * what was cut for every response (leverage included) unless `beyond` says otherwise, and within the trial's limits of spindle, cutter and feed speed; every level
 * of the categories is tried. The assurance of each bound is that of its own settings; settings that a search picked among many along a border keep it a little less
 * often, because luck helps to pick them (94.1 to 94.9 % in simulation where 95 % is asked, on 8 to 32 runs): the proof runs are for that. Answers with bounds, margins, what stops a gain, minutes and removal against today's
 * setting, and the proof runs. Of a mixed fit the mean is judged by Satterthwaite's (or Kenward and Roger's) degrees of freedom, the next part as one on fresh levels of every
 * random source (several: each on its own, a little wide where they share one), and a share of parts by a tolerance factor with Satterthwaite's degrees of freedom of the whole scatter, after
 * Mee and Owen 1983, Journal of the American Statistical Association 78, 901–905, from memory; how often each held in simulation stands in `notes`. Refused: a limit on a response that is not fitted, a fit that leaves no scatter, terms that can't be told apart.
 *
 * Source of the bounds: `boundMultiple`; jointly by Bonferroni.
 *
 * Example: `jointRecipe(trial, [fitOfRa, fitOfRz], { limits: { Ra: { limit: 0.8 }, Rz: { limit: 4, for: "mean" } } }).settings` is
 * `{ feed: 0.14, speed: 1200 }`.
 */
export function jointRecipe(
  trial: Trial,
  fits: readonly Fit[],
  options: JointRecipeOptions = {},
): JointRecipe {
  const decision = decisionOf(trial, fits, options);
  const end = decide(decision);
  const settings = settingsAt(decision.space, end.which, end.place);
  const stops = end.kept ? stopsAt(decision, end) : [];
  const binding = new Set(
    stops.flatMap(({ by }) => by).filter((name) => fits.some(({ response }) => response.name === name)),
  );
  const limits = keptLimits(decision, settings, binding).map((kept, k): LimitKept => ({
    ...kept,
    text: limitSentence(kept, trial, fits[k].logScale),
  }));
  const broken = limits.filter(({ isKept }) => !isKept).map(({ response }) => response);
  const figures = passFiguresAt(trial, settings);
  const today =
    decision.today === null ? null : { settings: decision.today, ...passFiguresAt(trial, decision.today) };
  const recipe: Omit<JointRecipe, "text" | "table"> = {
    outcome: end.kept ? "found" : "none",
    settings,
    limits,
    binding: limits.filter(({ binds }) => binds).map(({ response }) => response),
    stops,
    assuranceTogether: Math.max(0, 1 - limits.reduce((sum, { assurance }) => sum + 1 - assurance, 0)),
    objective: decision.objective,
    ...figures,
    today,
    minutesRatio: ratio(figures.minutes, today?.minutes),
    removalRatio: ratio(figures.removalRateCm3PerMin, today?.removalRateCm3PerMin),
    proof: end.kept ? limits.map((kept, k) => proofOf(kept, fits[k], options.proof)) : [],
    search: {
      quantities: decision.space.axes.map(({ name }) => name),
      steps: decision.space.axes.map(({ step }) => step),
      settings: end.settings,
      judged: end.judged,
      exact: end.exact,
    },
    extrapolation: [...new Set(fits.flatMap((fit) => fit.predict(own(fit, settings)).extrapolation))],
    notes: [...decision.notes, ...choiceDoubts(fits), ...unitDoubts(limits, fits, trial)],
    reason: end.kept
      ? ""
      : broken.length === 0
        ? "the machine's limits leave no setting"
        : `none of ${end.settings.toLocaleString("en")} settings keeps ${broken.join(" and ")} as surely as asked`,
  };
  return { ...recipe, text: jointText(recipe, trial), table: jointTable(limits, trial) };
}

function own({ factors }: Fit, settings: Readonly<Record<string, Setting>>): Record<string, Setting> {
  return Object.fromEntries(
    Object.entries(settings).filter(([name]) => factors.some((factor) => factor.name === name)),
  );
}

export function passFiguresAt({ spec }: Trial, settings: Readonly<Record<string, Setting>>): PassFigures {
  const { minutes, removalRateCm3PerMin } = passConditions(spec, settings);
  return { minutes, removalRateCm3PerMin };
}

/** Bounds know nothing of a choice of model by the same readings. */
function choiceDoubts(fits: readonly Fit[]): readonly string[] {
  const chosen = fits
    .filter(({ chosenFrom }) => chosenFrom !== undefined)
    .map(({ response }) => response.name);
  if (chosen.length === 0) return [];
  return [
    `the model of ${listed(chosen)} was chosen by looking at these same readings, so the recipe is less sure than it says, by how much is not known; the proof runs are for that`,
  ];
}

/** Limits so far from anything that was read that another unit was meant, perhaps. */
function unitDoubts(limits: readonly LimitKept[], fits: readonly Fit[], trial: Trial): readonly string[] {
  return limits.flatMap(({ response, limit, unit }, k) => {
    const read = fits[k].rows.flatMap(({ single }) => single);
    const [low, high] = extent(read);
    if (!(low > 0) || (limit <= farOff * high && limit >= low / farOff)) return [];
    return [
      `the limit on ${response}, ${valueText(limit, unit, trial)}, is far from all that was read (${valueText(low, unit, trial)} to ${valueText(high, unit, trial)}): check its unit`,
    ];
  });
}

/** µm for mm is a factor of 1000, µin for µm of 39: a limit ten times off is asked about. */
const farOff = 10;

function proofOf(kept: LimitKept, fit: Fit, options: JointRecipeOptions["proof"]): LimitProof {
  const { response } = kept;
  const recipe = {
    setting: 1,
    for: kept.for === "mean" ? ("mean" as const) : ("next-part" as const),
    estimate: kept.estimate,
    limit: kept.limit,
    side: kept.side,
    responseUnit: kept.unit,
  };
  try {
    const shares = kept.for === "mean" ? {} : sharesOf(kept);
    return { response, plan: proofOfRecipe(recipe, fit, { ...shares, ...options }), reason: "" };
  } catch (error) {
    if (!(error instanceof ModelError)) throw error;
    return { response, plan: null, reason: error.message };
  }
}

/** Good: the share that the estimates foretell, 99 % at most; bad: 80 %, or a tenth below what was promised where that is less. */
function sharesOf({ for: whom, share, shareThere }: LimitKept): { goodShare: number; badShare: number } {
  const badShare = whom === "share" ? Math.min(0.8, share - 0.1) : 0.8;
  return { goodShare: Math.min(0.99, Math.max(shareThere, badShare + 0.05)), badShare };
}
