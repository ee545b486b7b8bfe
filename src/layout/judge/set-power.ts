import { fQuantile, nonCentralFTail } from "../../numerics/index.ts";
import { termKey, type Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { categoryBasis } from "../coded-columns.ts";
import { LayoutError } from "../error.ts";
import type { ErrorDf, TermStratum } from "./error-df.ts";
import { carried, squaredLength, type ToldModel } from "./told.ts";

/** A set of terms that one F test asks about: does any of them matter? */
export interface SetJudgement {
  readonly label: string;
  /** Coefficients in the set that can be told apart. */
  readonly df: number;
  readonly stratum: TermStratum;
  /** Degrees of freedom for error; the fewest where the set's terms have different ones. Null where none is left. */
  readonly dfError: number | null;
  /** Chance that the F test sees it when one effect in the set (for a category: the step between two levels) has the stated size, in the case hardest to see. */
  readonly power: number | null;
}

export interface SetRequest {
  readonly label: string;
  readonly terms: readonly Term[];
}

export interface SetOptions {
  readonly factors: readonly Factor[];
  /** In units of σ; null where no effect is stated. */
  readonly effect: number | null;
  readonly confidence: number;
  readonly sets: readonly SetRequest[];
}

/**
 * Power of the F test of each set. With Σ the covariance of the set's coefficients, the noncentrality of effects β is β′Σ⁻¹β.
 * Where only one comparison c′β is stated (one effect of size d; two levels that differ by d), the least it can be is
 * d²/(c′Σc) (Cauchy and Schwarz), whatever the others do; of the comparisons in the set the hardest to see is taken.
 */
export function setJudgements(told: ToldModel, df: ErrorDf, options: SetOptions): readonly SetJudgement[] {
  return [...ownSets(told, options.factors), ...askedSets(told, options.sets)].flatMap(
    ({ label, termIndexes }) => {
      const members = told.model.estimands.flatMap((estimand, place) =>
        termIndexes.includes(estimand.termIndex) ? [place] : [],
      );
      if (members.some((place) => told.along[place] === null)) {
        return [{ label, df: 0, stratum: "runs" as const, dfError: null, power: null }];
      }
      const strata = members.map((place) => df.terms[place]);
      const each = strata.map((one) => one?.df ?? null);
      const dfError = each.some((one) => one === null)
        ? null
        : Math.min(...each.map((one) => one ?? Infinity));
      const kinds = new Set(strata.map((one) => one?.stratum));
      const stratum = kinds.size === 1 ? (strata[0]?.stratum ?? "runs") : "both";
      const size = members.length;
      const power =
        options.effect === null || dfError === null
          ? null
          : fPower(
              options.effect ** 2 / hardest(told, options.factors, termIndexes),
              size,
              dfError,
              options.confidence,
            );
      return [{ label, df: size, stratum, dfError, power }];
    },
  );
}

/** Chance that an F test at this confidence sees effects of this noncentrality. */
export function fPower(shift: number, df: number, dfError: number, confidence: number): number {
  const limit = fQuantile(confidence, df, dfError);
  return Math.min(1, Math.max(0, nonCentralFTail(limit, df, dfError, Math.min(shift, 1e6))));
}

interface TermSet {
  readonly label: string;
  readonly termIndexes: readonly number[];
}

/** Terms of several coefficients, then all products and all squares, where there are two or more. */
function ownSets({ model }: ToldModel, factors: readonly Factor[]): readonly TermSet[] {
  const counts = new Map<number, number>();
  for (const { termIndex } of model.estimands) counts.set(termIndex, (counts.get(termIndex) ?? 0) + 1);
  const several = model.terms.flatMap((term, termIndex) => {
    if ((counts.get(termIndex) ?? 0) < 2) return [];
    const levels = Object.keys(term).length === 1 ? levelsOf(factors, term) : 0;
    const label = Object.keys(term).join(" × ");
    return [{ label: levels > 0 ? `${label}, ${levels} levels` : label, termIndexes: [termIndex] }];
  });
  const kind = (label: string, fits: (term: Term) => boolean): readonly TermSet[] => {
    const termIndexes = model.terms.flatMap((term, termIndex) => (fits(term) ? [termIndex] : []));
    return termIndexes.length > 1 ? [{ label, termIndexes }] : [];
  };
  return [
    ...several,
    ...kind("all products of factors", (term) => Object.keys(term).length > 1),
    ...kind("all squares", (term) => Object.keys(term).length === 1 && Object.values(term)[0] === 2),
  ];
}

function levelsOf(factors: readonly Factor[], term: Term): number {
  const factor = factors.find(({ name }) => name in term);
  return factor?.kind === "category" ? factor.levels.length : 0;
}

function askedSets({ model }: ToldModel, sets: readonly SetRequest[]): readonly TermSet[] {
  const known = new Map(model.terms.map((term, index) => [termKey(term), index]));
  return sets.map(({ label, terms }) => ({
    label,
    termIndexes: terms.map((term) => {
      const index = known.get(termKey(term));
      if (index !== undefined) return index;
      throw new LayoutError(
        `judge: the set "${label}" asks for the term ${JSON.stringify(term)}, which is not in the model. Add it to the model's terms, or take it out of the set.`,
      );
    }),
  }));
}

/** The largest variance, for σ = 1, of an effect in the set: twice a coefficient, or the step between any two levels. */
function hardest(told: ToldModel, factors: readonly Factor[], termIndexes: readonly number[]): number {
  let most = 0;
  told.model.estimands.forEach(({ termIndex }, place) => {
    if (termIndexes.includes(termIndex)) most = Math.max(most, 4 * (told.variances[place] ?? 0));
  });
  for (const termIndex of termIndexes) {
    const term = told.model.terms[termIndex] ?? {};
    const factor = Object.keys(term).length === 1 ? factors.find(({ name }) => name in term) : undefined;
    if (factor?.kind !== "category") continue;
    const columns = told.model.estimands.find((one) => one.termIndex === termIndex)?.columns ?? [];
    const basis = categoryBasis(factor.levels.length);
    for (let one = 1; one < factor.levels.length; one += 1) {
      for (let other = one + 1; other < factor.levels.length; other += 1) {
        const weights = new Float64Array(told.information.kept.length);
        columns.forEach((column, index) => {
          weights[told.information.kept.indexOf(column)] =
            (basis[index]?.[other] ?? 0) - (basis[index]?.[one] ?? 0);
        });
        most = Math.max(most, squaredLength(carried(told.information, weights)));
      }
    }
  }
  return most;
}
