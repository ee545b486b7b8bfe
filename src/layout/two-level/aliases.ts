import { effectText, signedText, type EffectNames } from "./effect-text.ts";
import type { RegularDesign } from "./regular-design.ts";

/** Effects (sets of factor places, in rising order of size) that a regular layout can't tell apart, with signs against the first. */
export interface AliasSet {
  readonly mask: number;
  readonly effects: readonly { readonly places: readonly number[]; readonly sign: 1 | -1 }[];
}

/** More effects than this are not listed: the text would be of no use, and memory is finite. */
const MOST_EFFECTS = 200_000;

/** Every alias set that holds an effect of up to `order` factors, in the order in which effects are met; clear ones included. */
export function aliasSets(design: RegularDesign, order: number): readonly AliasSet[] {
  const sets = new Map<number, { places: readonly number[]; sign: 1 | -1 }[]>();
  let effects = 0;
  for (const places of effectsUpTo(design.masks.length, order)) {
    effects += 1;
    if (effects > MOST_EFFECTS) break;
    const mask = places.reduce((sum, place) => sum ^ (design.masks[place] ?? 0), 0);
    const own = places.reduce((product, place) => product * (design.signs[place] ?? 1), 1);
    const found = sets.get(mask);
    if (found) found.push({ places, sign: own < 0 ? -1 : 1 });
    else sets.set(mask, [{ places, sign: own < 0 ? -1 : 1 }]);
  }
  return [...sets].map(([mask, members]) => {
    const first = members[0]?.sign ?? 1;
    return {
      mask,
      effects: members.map(({ places, sign }) => ({ places, sign: sign * first < 0 ? -1 : 1 })),
    };
  });
}

/** Every set of 1 to `order` places below `factors`, small sets first. */
export function* effectsUpTo(factors: number, order: number): Generator<readonly number[]> {
  for (let size = 1; size <= Math.min(order, factors); size += 1) yield* subsets(factors, size);
}

function* subsets(factors: number, size: number): Generator<readonly number[]> {
  const places = Array.from({ length: size }, (_, index) => index);
  for (;;) {
    yield [...places];
    let at = size - 1;
    while (at >= 0 && places[at] === factors - size + at) at -= 1;
    if (at < 0) return;
    places[at] = (places[at] ?? 0) + 1;
    for (let next = at + 1; next < size; next += 1) places[next] = (places[next - 1] ?? 0) + 1;
  }
}

/** The alias sets of two and more effects as text, "A = BD = CE"; what equals the mean is left to the defining relation. */
export function aliasTexts(design: RegularDesign, names: EffectNames, order: number): readonly string[] {
  return aliasSets(design, order)
    .filter((set) => set.mask !== 0 && set.effects.length > 1)
    .map((set) =>
      set.effects.map(({ places, sign }) => signedText(effectText(names, places), sign)).join(" = "),
    );
}

/** Beyond this the defining relation is counted, not listed. */
const MOST_WORDS = 4096;

/** The words that equal the mean, with their signs, shortest first; undefined where they are too many to list. */
export function definingWords(design: RegularDesign, names: EffectNames): readonly string[] | undefined {
  const words = dependences(design.masks);
  if (words.length > Math.log2(MOST_WORDS)) return undefined;
  const all = Array.from({ length: 2 ** words.length - 1 }, (_, index) =>
    words.reduce((sum, word, place) => (((index + 1) >> place) & 1 ? sum ^ word : sum), 0n),
  );
  return all
    .map(placesIn)
    .sort((one, other) => one.length - other.length || compareLists(one, other))
    .map((places) => {
      const sign = places.reduce((product, place) => product * (design.signs[place] ?? 1), 1);
      return signedText(effectText(names, places), sign);
    });
}

function compareLists(one: readonly number[], other: readonly number[]): number {
  const at = one.findIndex((place, index) => place !== other[index]);
  return at < 0 ? 0 : (one[at] ?? 0) - (other[at] ?? 0);
}

/** The places whose bits are set, rising. */
export function placesIn(word: bigint): readonly number[] {
  const places: number[] = [];
  for (let place = 0, rest = word; rest > 0n; place += 1, rest >>= 1n) if (rest & 1n) places.push(place);
  return places;
}

/** Independent sets of factors (as bits) whose masks cancel: each is a factor with the earlier, independent ones that make it. */
export function dependences(masks: readonly number[]): readonly bigint[] {
  const reduced: { mask: number; from: bigint }[] = [];
  const found: bigint[] = [];
  masks.forEach((mask, place) => {
    let rest = mask;
    let from = 1n << BigInt(place);
    for (const one of reduced) {
      if ((rest ^ one.mask) >>> 0 >= rest >>> 0) continue;
      rest ^= one.mask;
      from ^= one.from;
    }
    if (rest === 0) found.push(from);
    else reduced.push({ mask: rest, from });
  });
  return found;
}

/** How many masks of low order stand behind each mask: entry [order] counts effects of so many factors. */
export function effectCounts(design: RegularDesign, order: number): ReadonlyMap<number, readonly number[]> {
  const counts = new Map<number, number[]>();
  for (const places of effectsUpTo(design.masks.length, order)) {
    const mask = places.reduce((sum, place) => sum ^ (design.masks[place] ?? 0), 0);
    const at = counts.get(mask) ?? new Array<number>(order + 1).fill(0);
    at[places.length] = (at[places.length] ?? 0) + 1;
    counts.set(mask, at);
  }
  return counts;
}

/** Dimension of what the masks span. */
export function rankOf(masks: readonly number[]): number {
  const reduced: number[] = [];
  for (const mask of masks) {
    let rest = mask >>> 0;
    for (const one of reduced) rest = Math.min(rest, (rest ^ one) >>> 0);
    if (rest > 0) reduced.push(rest);
  }
  return reduced.length;
}
