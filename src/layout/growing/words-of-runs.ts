/** A product of factors that never changes over the runs (|share| 1), or not as often one way as the other (between). */
export interface CountedWord {
  /** Places of the factors, rising. */
  readonly places: readonly number[];
  /** The mean of the product over the runs, −1 to 1. */
  readonly share: number;
}

/** Beyond this many products of one length are not counted: nobody reads them. */
const MOST_WORDS = 200_000;

/**
 * The products of up to `longest` two-level factors that are not balanced over the runs, counted from the runs themselves and
 * not from generators: rows of −1 and +1. In a regular fraction these are the words of its defining relation (Box, Hunter and
 * Hunter, Statistics for Experimenters, 2nd ed. 2005, chapter 6).
 *
 * Example: the four runs of A, B and C = AB give one word, places 0, 1 and 2 with share 1.
 */
export function countedWords(rows: readonly (readonly number[])[], longest: number): readonly CountedWord[] {
  const factors = rows[0]?.length ?? 0;
  const words: CountedWord[] = [];
  for (let length = 1; length <= Math.min(longest, factors); length += 1) {
    if (combinationsOf(factors, length) > MOST_WORDS) break;
    visit(rows, length, words);
  }
  return words;
}

function visit(rows: readonly (readonly number[])[], length: number, words: CountedWord[]): void {
  const factors = rows[0]?.length ?? 0;
  const extend = (places: readonly number[], product: Int8Array): void => {
    for (let place = (places.at(-1) ?? -1) + 1; place < factors; place += 1) {
      const next = product.map((value, row) => value * (rows[row]?.[place] ?? 0));
      if (places.length + 1 < length) extend([...places, place], next);
      else {
        const share = next.reduce((sum, value) => sum + value, 0) / rows.length;
        if (share !== 0) words.push({ places: [...places, place], share });
      }
    }
  };
  extend([], new Int8Array(rows.length).fill(1));
}

function combinationsOf(items: number, chosen: number): number {
  let count = 1;
  for (let index = 0; index < chosen; index += 1) count = (count * (items - index)) / (index + 1);
  return count;
}

/** Length of the shortest word that never changes; null where none of those counted does. */
export function countedResolution(words: readonly CountedWord[]): number | null {
  return words.reduce<number | null>(
    (least, { places, share }) =>
      Math.abs(share) === 1 && (least === null || places.length < least) ? places.length : least,
    null,
  );
}
