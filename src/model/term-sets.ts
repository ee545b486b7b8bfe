import { listed } from "../units/index.ts";
import { modelError } from "./error.ts";
import type { ObservedFactor } from "./observations.ts";
import { intercept, main, squared, termKey, times } from "./term.ts";
import type { ModelKind, Term } from "./term.ts";

type Named = Pick<ObservedFactor, "name" | "kind">;

/**
 * The terms of a named model, intercept first: `main` each factor by itself; `interactions` adds every product of two factors;
 * `surface` adds the squares of quantities; `power-law` is `main`, on logarithms. Each set begins with the one before it.
 * Example: `termsOf("interactions", [{ name: "feed", kind: "quantity" }, { name: "edge", kind: "category" }])` is
 * `[{}, { feed: 1 }, { edge: 1 }, { feed: 1, edge: 1 }]`.
 */
export function termsOf(kind: ModelKind, factors: readonly Named[]): readonly Term[] {
  const terms: Term[] = [intercept(), ...factors.map(({ name }) => main(name))];
  if (kind === "main" || kind === "power-law") return terms;
  factors.forEach((a, i) => factors.slice(i + 1).forEach((b) => terms.push(times(a.name, b.name))));
  if (kind === "interactions") return terms;
  if (kind !== "surface")
    throw modelError(`the model "${String(kind)}"`, "main, interactions, surface or power-law");
  for (const factor of factors) if (factor.kind === "quantity") terms.push(squared(factor.name));
  return terms;
}

/**
 * Terms as they are to be fitted: checked against the factors, the intercept put first (left out through the origin).
 * Refuses an unknown factor, a power of a category, a degree that is not whole, and the same term twice, each by name.
 */
export function checkedTerms(
  terms: readonly Term[],
  factors: readonly Named[],
  through: "intercept" | "origin",
): readonly Term[] {
  const known = new Map(factors.map((factor) => [factor.name, factor]));
  const seen = new Set<string>();
  const wanted: Term[] = [];
  for (const term of terms) {
    for (const [name, degree] of Object.entries(term)) checkPart(name, degree, known);
    const key = termKey(term);
    if (seen.has(key)) throw modelError(`the term ${JSON.stringify(term)} twice`, "each term once");
    seen.add(key);
    if (Object.keys(term).length > 0) wanted.push(term);
  }
  if (through === "intercept") return [intercept(), ...wanted];
  if (wanted.length === 0) throw modelError("a fit through the origin without a term", "at least one term");
  for (const term of wanted) {
    const names = Object.keys(term);
    if (names.every((name) => known.get(name)?.kind === "category")) {
      throw modelError(
        `the category term ${listed(names)} in a fit through the origin`,
        "quantities, or products of a category with a quantity",
        "Fit with an intercept, or let the category change the slope of a quantity.",
      );
    }
  }
  return wanted;
}

function checkPart(name: string, degree: number, known: ReadonlyMap<string, Named>): void {
  const factor = known.get(name);
  if (factor === undefined) {
    const whole = name.includes("=")
      ? ` A category is named as a whole: {"${name.slice(0, name.indexOf("="))}": 1}.`
      : "";
    throw modelError(
      `the unknown factor "${name}" in a term`,
      `one of ${listed([...known.keys()], "or")}`,
      whole.trim(),
    );
  }
  if (!Number.isInteger(degree) || degree < 1 || degree > 30) {
    throw modelError(`${name} to the power ${degree}`, "a whole power from 1 to 30");
  }
  if (factor.kind === "category" && degree > 1) {
    throw modelError(
      `the power ${degree} of ${name}, a category`,
      "a quantity",
      `A category has no square: use main("${name}").`,
    );
  }
}
