/**
 * A regular two-level layout: 2^bits runs, in each of which a basic bit is −1 or +1, and each factor is a product of basic
 * bits with a sign. Full factorials, fractions, fold-overs and block columns are all of this form.
 */
export interface RegularDesign {
  readonly bits: number;
  /** One a factor: which basic bits it is the product of. */
  readonly masks: readonly number[];
  /** One a factor: +1 or −1. */
  readonly signs: readonly (1 | -1)[];
}

/** Number of ones in a 32-bit pattern. */
export function onesIn(pattern: number): number {
  let count = 0;
  for (let rest = pattern >>> 0; rest > 0; rest = (rest & (rest - 1)) >>> 0) count += 1;
  return count;
}

/** The value, −1 or +1, of a product of basic bits in run `run` (from 0, standard order: the first bit changes fastest). */
export function valueOf(mask: number, run: number): 1 | -1 {
  // A bit that is not set stands for −1, so that the first run is low in every basic factor.
  return (onesIn(mask) - onesIn(mask & run)) % 2 === 0 ? 1 : -1;
}

/** Levels of all factors, run by run, in standard order. */
export function levelsOfRuns(design: RegularDesign): readonly (readonly (1 | -1)[])[] {
  return Array.from({ length: 2 ** design.bits }, (_, run) =>
    design.masks.map((mask, factor) => (valueOf(mask, run) * (design.signs[factor] ?? 1) > 0 ? 1 : -1)),
  );
}

/**
 * Word-length pattern: entry j counts the words of length j in the defining relation. By the MacWilliams identity from the
 * number of −1s in each run, so that the words themselves (as many as 2^(k−bits)) are never listed.
 */
export function wordLengths(design: Pick<RegularDesign, "bits" | "masks">): readonly number[] {
  const { bits, masks } = design;
  const runs = 2 ** bits;
  const histogram = new Float64Array(masks.length + 1);
  for (let run = 0; run < runs; run += 1) {
    let ones = 0;
    for (const mask of masks) ones += onesIn(mask & run) & 1;
    histogram[ones] = (histogram[ones] ?? 0) + 1;
  }
  const table = krawtchouk(masks.length);
  return table.map((row) => {
    let sum = 0;
    for (let weight = 0; weight < histogram.length; weight += 1)
      sum += (histogram[weight] ?? 0) * (row[weight] ?? 0);
    return Math.round(sum / runs);
  });
}

/** Krawtchouk polynomials of order `size`: row j, column w is Σ (−1)^i C(w, i) C(size − w, j − i). */
export function krawtchouk(size: number): readonly Float64Array[] {
  const rows: Float64Array[] = [new Float64Array(size + 1).fill(1)];
  if (size > 0) rows.push(Float64Array.from({ length: size + 1 }, (_, weight) => size - 2 * weight));
  for (let order = 1; order < size; order += 1) {
    const [current, before] = [rows[order], rows[order - 1]];
    rows.push(
      Float64Array.from(
        { length: size + 1 },
        (_, weight) =>
          ((size - 2 * weight) * (current?.[weight] ?? 0) - (size - order + 1) * (before?.[weight] ?? 0)) /
          (order + 1),
      ),
    );
  }
  return rows;
}

/** Length of the shortest word; undefined where nothing is aliased (a full factorial). */
export function resolutionOf(design: Pick<RegularDesign, "bits" | "masks">): number | undefined {
  const found = wordLengths(design).findIndex((count, length) => length > 0 && count > 0);
  return found < 0 ? undefined : found;
}
