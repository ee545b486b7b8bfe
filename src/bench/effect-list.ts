import { main, squared, termsOf, times, termKey, type ModelKind, type Term } from "../model/index.ts";
import { listed } from "../units/index.ts";
import type { Factor } from "../trial/index.ts";
import { splitNames } from "./typed-list.ts";

/** The sets of effects that a form offers by name. */
export const effectSets = ["main", "interactions", "surface"] as const satisfies readonly ModelKind[];

export type EffectSet = (typeof effectSets)[number];

export function isEffectSet(text: string): text is EffectSet {
  return (effectSets as readonly string[]).includes(text);
}

/** Effects as this bench writes them: "feed, feed × speed, feed²". A sentence in place of a term that can't be read. */
export function readEffects(
  text: string,
  names: readonly string[],
): { readonly terms: readonly Term[]; readonly refusals: readonly string[] } {
  const terms: Term[] = [];
  const refusals: string[] = [];
  for (const part of splitNames(text)) {
    const square = /^(.*?)\s*(?:²|\^\s*2|\bsquared)$/i.exec(part)?.[1];
    const parts = (square ?? part).split(/\s*[×*]\s*|\s+(?:x|by)\s+/i).map((name) => name.trim());
    const unknown = parts.filter((name) => !names.includes(name));
    if (unknown.length > 0) {
      refusals.push(
        `"${part}": ${listed(unknown.map((name) => `"${name}"`))} ${unknown.length > 1 ? "are not factors" : "is not a factor"} of this trial. It has ${listed(names)}.`,
      );
    } else if (square !== undefined && parts.length > 1) {
      refusals.push(`"${part}": give the square of one factor, or a pair such as ${parts.join(" × ")}.`);
    } else if (new Set(parts).size < parts.length) {
      refusals.push(`"${part}" names a factor twice. For its curvature write ${parts[0] ?? ""}².`);
    } else {
      const [first = ""] = parts;
      terms.push(square !== undefined ? squared(first) : parts.length === 1 ? main(first) : times(...parts));
    }
  }
  return { terms, refusals };
}

/** The effects as a form shows them: the name of a set where they are one, else the list. */
export function effectsText(terms: readonly Term[], factors: readonly Factor[]): string {
  const keys = (list: readonly Term[]) => list.map(termKey).sort().join();
  const set = effectSets.find((name) => keys(named(name, factors)) === keys(terms));
  return set ?? terms.map(effectText).join(", ");
}

/** The effects of a set, without the mean. */
export function named(set: EffectSet, factors: readonly Factor[]): readonly Term[] {
  return termsOf(set, factors).filter((term) => Object.keys(term).length > 0);
}

function effectText(term: Term): string {
  return Object.entries(term)
    .map(([name, degree]) => (degree === 1 ? name : degree === 2 ? `${name}²` : `${name}^${degree}`))
    .join(" × ");
}
