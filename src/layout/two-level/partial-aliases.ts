import { effectNames, effectText } from "./effect-text.ts";

/** Lists beyond this many entries are of no use to a reader. */
const MOST_ENTRIES = 6000;

/**
 * How much of each product of two factors stands in each main effect of a balanced two-level layout with columns at right
 * angles: the mean of the product of three columns. One text a factor, "A: −0.333 BC, +0.333 BD"; what is 0 is left out.
 */
export function partialAliases(
  rows: readonly (readonly number[])[],
  names: readonly string[],
): readonly string[] {
  const factors = names.length;
  if ((factors * (factors - 1) * (factors - 2)) / 2 > MOST_ENTRIES) return [];
  const words = effectNames(names);
  return names.flatMap((name, own) => {
    const parts: string[] = [];
    for (let one = 0; one < factors; one += 1) {
      for (let other = one + 1; other < factors; other += 1) {
        if (one === own || other === own) continue;
        const share = meanProduct(rows, own, one, other);
        if (share === 0) continue;
        parts.push(`${share < 0 ? "−" : "+"}${figures(Math.abs(share))} ${effectText(words, [one, other])}`);
      }
    }
    return parts.length > 0 ? [`${name}: ${parts.join(", ")}`] : [];
  });
}

/** The largest share of a product of two factors in a main effect. */
export function largestPartialAlias(rows: readonly (readonly number[])[]): number {
  const factors = rows[0]?.length ?? 0;
  let most = 0;
  for (let own = 0; own < factors; own += 1) {
    for (let one = 0; one < own; one += 1) {
      for (let other = 0; other < one; other += 1)
        most = Math.max(most, Math.abs(meanProduct(rows, own, one, other)));
    }
  }
  return most;
}

function meanProduct(rows: readonly (readonly number[])[], one: number, two: number, three: number): number {
  let sum = 0;
  for (const row of rows) sum += (row[one] ?? 0) * (row[two] ?? 0) * (row[three] ?? 0);
  return sum / rows.length;
}

function figures(share: number): string {
  return String(Number(share.toFixed(3)));
}
