import type { Setting, Trial } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { freshText } from "../fresh-text.ts";
import { todayOf } from "../recipes.ts";
import { knownMultiple } from "./bound-multiple.ts";
import { gridSearch, type SearchEnd } from "./grid-search.ts";
import type { JointRecipeOptions } from "./joint-recipe.ts";
import { mixedCoverage } from "./mixed-coverage.ts";
import { limitJudge, type LimitJudge } from "./limit-judge.ts";
import { objectiveOf, passScore, type Objective, type PassScore } from "./pass-score.ts";
import type { PointEvaluator } from "./point-evaluator.ts";
import { responseLimits, type ResponseLimit } from "./response-limit.ts";
import { searchSpace, type SearchSpace } from "./search-space.ts";

/** A recipe's question, checked: what is searched, what is judged, what is pushed. */
export interface Decision {
  readonly trial: Trial;
  readonly fits: readonly Fit[];
  readonly limits: readonly ResponseLimit[];
  readonly evaluators: readonly PointEvaluator[];
  readonly judges: readonly LimitJudge[];
  readonly space: SearchSpace;
  readonly objective: Objective;
  readonly scores: readonly PassScore[];
  readonly withinCut: boolean;
  readonly today: Readonly<Record<string, Setting>> | null;
  readonly notes: readonly string[];
}

/** Checks a question at the door. Refuses fits without scatter, with terms that can't be told apart, and limits on single parts of weighted ones. */
export function decisionOf(
  trial: Trial,
  fits: readonly Fit[],
  options: JointRecipeOptions & { readonly needsObjective?: boolean } = {},
): Decision {
  const limits = responseLimits(trial, fits, options.limits ?? {});
  const evaluators = fits.map((fit, k) => checkedEvaluator(fit, limits[k]));
  const withinCut = options.beyond === undefined || Object.keys(options.beyond).length === 0;
  const today = todayOf(trial, options.today);
  const space = searchSpace(trial, fits, today, options);
  const unchecked = new Set<string>();
  const objective: Objective =
    options.needsObjective === false
      ? (options.objective ?? { product: [space.axes[0].name] })
      : objectiveOf(trial, space, options.objective);
  const scores = space.combinations.map((_, which) => passScore(trial, space, which, objective, unchecked));
  const judges = limits.map((limit, k) => limitJudge(limit, evaluators[k], { withinCut }));
  return {
    trial,
    fits,
    limits,
    evaluators,
    judges,
    space,
    objective,
    scores,
    withinCut,
    today,
    notes: [...space.notes, ...unchecked, ...mixedNotes(limits, evaluators)],
  };
}

/** What bounds by a mixed fit suppose, and how often they hold: the figures of the committed table of coverage. */
function mixedNotes(
  limits: readonly ResponseLimit[],
  evaluators: readonly PointEvaluator[],
): readonly string[] {
  return limits.flatMap(({ response, fresh, for: whom }, k) => {
    if (!evaluators[k].dfVaries) return [];
    const own = freshText(fresh);
    return [
      ...(whom === "mean" || own === ""
        ? []
        : [`parts of ${response} are taken to come each ${own}, whose scatter is in the bound`]),
      ...(mixedCoverage[whom] === undefined
        ? []
        : [`the bound of ${response} held in ${mixedCoverage[whom]}`]),
    ];
  });
}

function checkedEvaluator(fit: Fit, limit: ResponseLimit): PointEvaluator {
  const { name } = fit.response;
  const evaluator = fit.evaluator?.();
  if (evaluator === undefined)
    throw modelError(
      `a fit of ${name} that can't be asked at any setting`,
      "a fit by fitLinear, fitPowerLaw or fitMixed",
    );
  if (evaluator.sd === null)
    throw modelError(`a fit of ${name} without scatter`, "runs that show the scatter", fit.noInterval);
  if (evaluator.inseparable.length > 0)
    throw modelError(
      `a fit of ${name} whose runs can't tell ${listed(evaluator.inseparable)} apart`,
      "terms that can be told apart",
      "Leave terms out, or cut runs that tell them apart.",
    );
  if (evaluator.weighted && limit.for !== "mean")
    throw modelError(
      `a limit on single parts of ${name}, whose fit is weighted`,
      'a limit for the mean ("mean"): the scatter of one further part is not known',
    );
  return evaluator;
}

/** The search itself. */
export function decide({ space, judges, scores }: Decision): SearchEnd {
  return gridSearch(space, judges, scores);
}

/** The search were model and scatter known: what the estimates themselves would allow. */
export function decideIfKnown({ space, limits, evaluators, scores, withinCut }: Decision): SearchEnd {
  const judges = limits.map((limit, k) =>
    limitJudge(limit, evaluators[k], { withinCut, multiple: constant(knownMultiple(limit)) }),
  );
  return gridSearch(space, judges, scores);
}

function constant(value: number): () => number {
  return () => value;
}
