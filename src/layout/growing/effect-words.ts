import type { Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";

/**
 * An effect as alias strings write it: "feed", "feed × speed" (also "feed * speed"), "feed²" (also "feed^2"), "−BC" where every
 * factor has a one-letter name. A sign says nothing about which effect it is. Refuses names that no factor has.
 */
export function effectOf(text: string, factors: readonly Factor[]): Term {
  const bare = text.trim().replace(/^[−+-]\s*/, "");
  const names = factors.map(({ name }) => name);
  const parts = names.includes(bare)
    ? [bare]
    : bare.split(/[×*]/).flatMap((part) => single(part.trim(), names));
  const term: Record<string, number> = {};
  for (const part of parts) {
    const [, name = "", raised] = /^(.*?)(²|³|\^\d+)?$/.exec(part) ?? [];
    const known = names.includes(part) ? part : name.trim();
    if (!names.includes(known)) {
      throw new LayoutError(
        `grow.between: "${text}" names "${known}", which is not a factor of this trial. It has ${listed(names)}; write a product as "feed × speed" or "feed * speed".`,
      );
    }
    const degree =
      known === part || raised === undefined
        ? 1
        : raised === "²"
          ? 2
          : raised === "³"
            ? 3
            : Number(raised.slice(1));
    term[known] = (term[known] ?? 0) + degree;
  }
  return term;
}

/** "BC" as B and C where factors have one-letter names. */
function single(part: string, names: readonly string[]): readonly string[] {
  const oneLetter = names.every((name) => [...name].length === 1);
  return oneLetter && [...part].every((letter) => names.includes(letter)) ? [...part] : [part];
}

/** The effects of a chain such as "A = BC = −DE". */
export function effectsOfChain(text: string, factors: readonly Factor[]): readonly Term[] {
  const parts = text.split("=");
  if (parts.length < 2) {
    throw new LayoutError(
      `grow.between: "${text}" is one effect; two are needed, as in "depth = feed × speed" or ["depth", "feed × speed"].`,
    );
  }
  return parts.map((part) => effectOf(part, factors));
}

/** "feed × speed", "feed²". */
export function effectWords(term: Term): string {
  return Object.entries(term)
    .map(
      ([name, degree]) => name + (degree === 1 ? "" : degree === 2 ? "²" : degree === 3 ? "³" : `^${degree}`),
    )
    .join(" × ");
}
