import { listed } from "../../units/index.ts";
import type { Observations } from "../observations.ts";
import { chosenTerms, type ChosenFrom, type ChosenTerms } from "../chosen-from.ts";
import { modelError } from "../error.ts";
import type { Term } from "../term.ts";
import { withFactors } from "../with-factors.ts";
import { candidateTerms, type CandidateTerm } from "./candidate-terms.ts";
import { criterion } from "./criterion.ts";
import { heredityWords, type Heredity } from "./heredity.ts";
import { screeningResponse } from "./screening-response.ts";
import { searchSubsets, type Subset } from "./subset-search.ts";

/** One model of a screening, with how well it does. */
export interface ReachableModel {
  /** As they were looked at: in factors coded −1 to +1. */
  readonly terms: ChosenTerms;
  /**
   * What a fit of the model takes: each factor of a product or square by itself too, without which the product would be another one in the factors' own
   * units. A fit that is given either list says that these runs chose it.
   */
  readonly fitTerms: ChosenTerms;
  readonly labels: readonly string[];
  /** Corrected information criterion, less that of the best model: 0 is the best, small is nearly as good. */
  readonly behind: number;
  readonly residualSd: number;
  readonly residualDf: number;
  readonly rSquared: number | null;
}

export interface ModelsWithinReach {
  /** Best first; never empty: with nothing to be told, the model with the mean alone. */
  readonly models: readonly ReachableModel[];
  /** For each term in any of them: the share of their support that stands on models with it, largest first. */
  readonly support: readonly { readonly term: Term; readonly label: string; readonly share: number }[];
  readonly heredity: Heredity;
  readonly reach: number;
  readonly looked: number;
  readonly mostTerms: number;
  readonly candidates: number;
  readonly sentences: readonly string[];
}

export interface ReachOptions {
  /** Default "weak". */
  readonly heredity?: Heredity;
  /** How far behind the best a model may be, in units of the information criterion; default 4. */
  readonly reach?: number;
  /** Default: a third of the runs, at most 5. */
  readonly mostTerms?: number;
  /** Search on the natural logarithm of the response. Default false. */
  readonly log?: boolean;
}

/** Of each size so many models are kept; more than these are never within reach of one another's best. */
const keptOfEachSize = 400;

/**
 * All models that do about as well as the best, among every factor, every product of two and the squares that can be told.
 *
 * Use it where runs are fewer than terms (a Plackett–Burman or a small fraction, whose products hide partly behind several main
 * effects): the best model alone looks surer than it is. Every subset up to `mostTerms` that keeps the heredity is looked at. Models are compared by
 * Akaike's criterion corrected for few runs, n ln(residual sum of squares / n) + 2 k n/(n − k − 1), k the coefficients and the scatter (Hurvich and Tsai
 * 1989, Biometrika 76, 297–307); shares of support are exp(−behind/2), added up and set to a sum of 1 (Burnham and Anderson 2002; from memory). The runs chose
 * these models, so intervals of a fit of one of them are too narrow: such a fit says so (`fitTerms`), `bootstrapChoice` widens its intervals, and
 * `validateChoice(observations, bestWithinReach(), …)` tells what the choice costs.
 *
 * Refused: fewer than five runs, categories of three levels or more, factors that never moved. Blocks are kept in every model.
 *
 * Example: of the twelve castings of Hunter, Hodi and Eager 1982 it names F with F × G first (R² 0.89), where main effects alone offer F and D (0.59).
 */
export function modelsWithinReach(observations: Observations, options: ReachOptions = {}): ModelsWithinReach {
  const { heredity = "weak", reach = 4, log = false } = options;
  const { response, base } = screeningResponse(observations, log);
  const rows = response.length;
  const { mostTerms = Math.min(5, Math.floor(rows / 3)) } = options;
  if (!(reach >= 0 && Number.isFinite(reach)))
    throw modelError(`a reach of ${reach}`, "a number from 0, such as 4");
  if (!Number.isInteger(mostTerms) || mostTerms < 1)
    throw modelError(`${mostTerms} terms at most`, "a whole number from 1");
  const candidates = candidateTerms(observations);
  const search = searchSubsets(candidates, response, {
    base,
    heredity,
    mostTerms: Math.min(mostTerms, rows - base.length - 2),
    keep: keptOfEachSize,
  });
  const nothing = search.subsets[0];
  const total = nothing.residualSumOfSquares;
  // What rounding leaves of equal values is not a movement.
  if (!(total > 1e-24 * response.reduce((sum, value) => sum + value * value, 0)))
    throw modelError(
      "readings that are all one value",
      "a response that moved",
      "There is nothing to screen.",
    );
  const judged = search.subsets
    .map((subset) => {
      const given = { terms: subset.terms.length, rows, base: base.length, total };
      return { subset, score: criterion(subset.residualSumOfSquares, given) };
    })
    .filter(({ score: value }) => Number.isFinite(value))
    .sort((a, b) => a.score - b.score);
  const best = judged[0].score;
  const within = judged.filter(({ score: value }) => value - best <= reach);
  const mark: ChosenFrom = {
    how: `${within.length > 1 ? `one of ${within.length} that do about as well as the best` : "the best"} of ${search.looked.toLocaleString("en")} models of up to ${search.mostTerms} terms by these same runs`,
  };
  const models = within.map(({ subset, score: value }) =>
    told(subset, candidates, mark, { behind: value - best, rows, base: base.length, total }),
  );
  const support = supportOf(within, best, candidates);
  return {
    models,
    support,
    heredity,
    reach,
    looked: search.looked,
    mostTerms: search.mostTerms,
    candidates: candidates.length,
    sentences: sentences(models, support, {
      heredity,
      mostTerms: search.mostTerms,
      looked: search.looked,
      cut: search.cut,
    }),
  };
}

function told(
  subset: Subset,
  candidates: readonly CandidateTerm[],
  mark: ChosenFrom,
  given: { readonly behind: number; readonly rows: number; readonly base: number; readonly total: number },
): ReachableModel {
  const residualDf = given.rows - given.base - subset.terms.length;
  const terms = subset.terms.map((place) => candidates[place].term);
  return {
    terms: chosenTerms(terms, mark),
    fitTerms: chosenTerms(withFactors(terms), mark),
    labels: subset.terms.map((place) => candidates[place].label),
    behind: given.behind,
    residualSd: Math.sqrt(subset.residualSumOfSquares / residualDf),
    residualDf,
    rSquared: 1 - subset.residualSumOfSquares / given.total,
  };
}

function supportOf(
  within: readonly { readonly subset: Subset; readonly score: number }[],
  best: number,
  candidates: readonly CandidateTerm[],
): ModelsWithinReach["support"] {
  const weights = within.map(({ score: value }) => Math.exp((best - value) / 2));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const shares = new Map<number, number>();
  within.forEach(({ subset }, k) =>
    subset.terms.forEach((place) => shares.set(place, (shares.get(place) ?? 0) + weights[k] / all)),
  );
  return [...shares]
    .sort((a, b) => b[1] - a[1] || a[0] - b[0])
    .map(([place, share]) => ({ term: candidates[place].term, label: candidates[place].label, share }));
}

function sentences(
  models: readonly ReachableModel[],
  support: ModelsWithinReach["support"],
  given: {
    readonly heredity: Heredity;
    readonly mostTerms: number;
    readonly looked: number;
    readonly cut: boolean;
  },
): readonly string[] {
  const [first] = models;
  const name = (model: ReachableModel) =>
    model.labels.length === 0 ? "the mean alone" : listed(model.labels);
  const always = support.filter(({ term }) => models.every(({ terms }) => terms.includes(term)));
  const made: string[] = [];
  made.push(
    models.length === 1
      ? `One model stands clear of the others: ${name(first)}.`
      : `${models.length} models do about as well as the best, which is ${name(first)}; the runs can't tell them apart.`,
  );
  if (models.length > 1)
    made.push(
      always.length === 0
        ? "No term is in all of them."
        : `${listed(always.map(({ label }) => label))} ${always.length === 1 ? "is" : "are"} in all of them.`,
    );
  made.push(
    `Looked at ${given.looked.toLocaleString("en")} models of up to ${given.mostTerms} terms, on the rule that ${heredityWords[given.heredity]}.${given.cut ? " Larger ones are too many to look at." : ""}`,
    "The runs chose these models, so an interval from a fit of one of them is too narrow: cut the runs that tell them apart, or prove the result.",
  );
  return made;
}
