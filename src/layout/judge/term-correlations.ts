import type { Term } from "../../model/index.ts";
import type { Factor, Run } from "../../trial/index.ts";
import { correlationOf, standardised } from "./correlation.ts";
import { chosenTerms, modelColumns, type ModelChoice, type ModelEstimand } from "./model-columns.ts";

/** One question of a map of correlations: an effect, or one level of a category against the first. */
export interface MappedTerm {
  readonly label: string;
  /** The sum of its degrees: 1 for a factor by itself. */
  readonly order: number;
  readonly place: "asked" | "omitted";
}

export interface TermCorrelations {
  /** Terms of the model, then the omitted ones. */
  readonly terms: readonly MappedTerm[];
  /** Row by row: −1 to 1; null where one of the two never moves in these runs, or both belong to one category. */
  readonly correlations: readonly (readonly (number | null)[])[];
}

/**
 * How strongly each term of a model moves with each other one over the runs, and with terms that are left out of it: what the
 * layout could mistake for what.
 *
 * Use it to see what hides behind what before cutting. `runs` in any order, settings in the factors' units. Correlations are
 * those of the coded columns with the mean taken out; blocks play no part. Refuses an unknown factor.
 *
 * Example: the half fraction of three factors with c = a × b: c and a × b have correlation 1, all other pairs 0.
 */
export function termCorrelations(
  runs: readonly Pick<Run, "block" | "settings">[],
  factors: readonly Factor[],
  options: ModelChoice & { readonly omitted?: readonly Term[] } = {},
): TermCorrelations {
  const { omitted = [] } = options;
  const asked = chosenTerms(factors, options);
  const whole = runs.map(({ settings }) => ({ block: 1, settings }));
  const model = modelColumns(factors, [...asked, ...omitted], whole);
  const contrasts = model.estimands.map(({ contrast }) => standardised(contrast));
  return {
    terms: model.estimands.map((estimand) => ({
      label: estimand.label,
      order: Object.values(estimand.term).reduce((sum, degree) => sum + degree, 0),
      place: estimand.termIndex < asked.length ? "asked" : "omitted",
    })),
    correlations: model.estimands.map((one, row) =>
      model.estimands.map((other, column) => {
        if (row === column) return 1;
        if (sameCategory(one, other)) return null;
        const [first, second] = [contrasts[row], contrasts[column]];
        return first === undefined || second === undefined ? null : correlationOf(first, second);
      }),
    ),
  };
}

/** Levels of one category are compared with the same first level: that they move together says nothing of the layout. */
function sameCategory(one: ModelEstimand, other: ModelEstimand): boolean {
  return one.termIndex === other.termIndex;
}
