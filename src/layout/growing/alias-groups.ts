import { effectText, signedText, type EffectNames } from "../two-level/effect-text.ts";
import { effectsUpTo } from "../two-level/aliases.ts";

/** Effects of one and two factors that the runs can't tell apart, each as "A" or "−BC" against the first of its group. */
export interface AliasGroup {
  readonly places: readonly (readonly number[])[];
  readonly texts: readonly string[];
}

/** The effects of one and two factors by what can be told apart, counted from rows of −1 and +1; those alone are groups of one. */
export function aliasGroups(rows: readonly (readonly number[])[], names: EffectNames): readonly AliasGroup[] {
  const groups = new Map<string, { places: (readonly number[])[]; texts: string[]; sign: number }>();
  for (const places of effectsUpTo(names.names.length, 2)) {
    const column = rows.map((row) => places.reduce((product, place) => product * (row[place] ?? 0), 1));
    const sign = column[0] ?? 1;
    // The same column but for its sign is the same group.
    const key = column.map((value) => (value === sign ? "+" : "-")).join("");
    const found = groups.get(key);
    const text = effectText(names, places);
    if (found) {
      found.places.push(places);
      found.texts.push(signedText(text, sign * found.sign));
    } else groups.set(key, { places: [places], texts: [text], sign });
  }
  return [...groups.values()];
}

/** What further runs make of each group of several: "A = BE = CF splits into A and BE = CF". */
export function splitGroups(
  before: readonly AliasGroup[],
  after: readonly AliasGroup[],
): readonly { readonly text: string; readonly parts: readonly AliasGroup[] }[] {
  const groupOf = new Map(after.flatMap((group) => group.places.map((places) => [places.join(), group])));
  return before.flatMap((group) => {
    const parts = [...new Set(group.places.map((places) => groupOf.get(places.join())))].filter(
      (part) => part !== undefined,
    );
    if (parts.length < 2) return [];
    const texts = parts.map(({ texts: own }) => own.join(" = "));
    return [{ text: `${group.texts.join(" = ")} splits into ${texts.join(" | ")}`, parts }];
  });
}
