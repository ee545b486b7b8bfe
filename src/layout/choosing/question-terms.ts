import { main, squared, termsOf, times, type Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { quantitiesOf } from "../levels.ts";
import type { Stake } from "./question.ts";

/** The model that answers a question, without the mean, and how many columns it has with it. */
export interface QuestionTerms {
  readonly terms: readonly Term[];
  readonly columns: number;
  /** Why the question can't be put to these factors; null where it can. */
  readonly impossible: string | null;
}

export function productsOf(factors: readonly Factor[]): readonly Term[] {
  return factors.flatMap((one, place) =>
    factors.slice(place + 1).map((other) => times(one.name, other.name)),
  );
}

export function squaresOf(factors: readonly Factor[]): readonly Term[] {
  return quantitiesOf(factors).map((factor) => squared(factor.name));
}

export function questionTerms(factors: readonly Factor[], stake: Stake): QuestionTerms {
  const terms = modelOf(factors, stake);
  return {
    terms,
    columns: 1 + terms.reduce((sum, term) => sum + columnsOf(factors, term), 0),
    impossible: impossible(factors, stake),
  };
}

function modelOf(factors: readonly Factor[], stake: Stake): readonly Term[] {
  const mains = factors.map(({ name }) => main(name));
  switch (stake) {
    case "which-matter":
      return mains;
    case "how-they-combine":
      return [...mains, ...productsOf(factors)];
    case "how-curved":
      return [...mains, ...squaresOf(factors)];
    case "best-setting":
      return termsOf("surface", factors).filter((term) => Object.keys(term).length > 0);
  }
}

function impossible(factors: readonly Factor[], stake: Stake): string | null {
  if (stake === "how-they-combine" && factors.length < 2) {
    return `${factors[0]?.name ?? "One factor"} is the only factor: there is no other that could change its effect.`;
  }
  if (stake === "how-curved" && quantitiesOf(factors).length === 0) {
    return "No factor is a quantity: named levels have no curve. Ask which matter instead.";
  }
  return null;
}

/** How many columns a term takes: a category of so many levels takes one less. */
export function columnsOf(factors: readonly Factor[], term: Term): number {
  return Object.keys(term).reduce((product, name) => {
    const factor = factors.find((candidate) => candidate.name === name);
    return product * (factor?.kind === "category" ? factor.levels.length - 1 : 1);
  }, 1);
}
