import { modelError } from "./error.ts";

/**
 * One term of a model: factor names with their degree. `{}` is the intercept, `{ feed: 1, speed: 1 }` a product,
 * `{ feed: 2 }` a square. A coefficient of a category names the level compared with the first one: `{ "edge=used": 1 }`;
 * in a model that is asked for, `{ edge: 1 }` stands for the whole factor.
 */
export type Term = Readonly<Record<string, number>>;

/** The sets of terms that have a name: each includes the one before it; `power-law` is `main` on logarithms. */
export type ModelKind = "main" | "interactions" | "surface" | "power-law";

/** The constant of a model. Example: `intercept()` is `{}`. */
export function intercept(): Term {
  return {};
}

/** A factor by itself: the straight line of a quantity, the levels of a category. Example: `main("feed")` is `{ feed: 1 }`. */
export function main(factor: string): Term {
  return power(factor, 1);
}

/** The square of a quantity. Example: `squared("feed")` is `{ feed: 2 }`. */
export function squared(factor: string): Term {
  return power(factor, 2);
}

/** A whole power of a quantity. Example: `power("feed", 3)` is `{ feed: 3 }`. Refuses a degree that is not a whole number from 1 to 30. */
export function power(factor: string, degree: number): Term {
  if (factor === "") throw modelError("a term with an empty factor name", "the name of a factor");
  if (!Number.isInteger(degree) || degree < 1 || degree > 30) {
    throw modelError(`${factor} to the power ${degree}`, "a whole power from 1 to 30");
  }
  return { [factor]: degree };
}

/**
 * A product: how the effect of one factor depends on the others. Example: `times("feed", "speed")` is `{ feed: 1, speed: 1 }`.
 * Refuses fewer than two factors and a factor named twice (use `squared`).
 */
export function times(...factors: readonly string[]): Term {
  if (factors.length < 2) throw modelError(`a product of ${factors.length}`, "two factors or more");
  const term: Record<string, number> = {};
  for (const factor of factors) {
    if (Object.hasOwn(term, factor))
      throw modelError(`a product with ${factor} twice`, "different factors", `Use squared("${factor}").`);
    Object.assign(term, main(factor));
  }
  return term;
}

/** The same for the same factors and degrees in any order; tells two terms apart. */
export function termKey(term: Term): string {
  return JSON.stringify(Object.entries(term).sort(([a], [b]) => (a < b ? -1 : 1)));
}
