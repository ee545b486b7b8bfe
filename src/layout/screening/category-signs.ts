import { seededRandom } from "../../numerics/index.ts";

/** Up to so many signs all choices are tried; beyond, a fixed search. */
const EXHAUSTIVE_SIGNS = 12;

/**
 * Chooses the signs that stand for 0 in the columns of two-level categories: in the one row where the column is 0, and in
 * the centre run (its mirror gets the other). The choice is the one whose main effects have the largest determinant.
 */
export function categorySigns(
  half: readonly (readonly number[])[],
  categories: readonly boolean[],
): { readonly rows: readonly (readonly number[])[]; readonly centre: readonly number[] } {
  const places = categories.flatMap((category, column) => (category ? [column] : []));
  const zeros = places.flatMap((column) =>
    half.flatMap((row, index) => (row[column] === 0 ? [{ index, column }] : [])),
  );
  const size = zeros.length + places.length;
  const build = (signs: readonly number[]) => ({
    rows: half.map((row, index) =>
      row.map((value, column) => {
        const place = zeros.findIndex((zero) => zero.index === index && zero.column === column);
        return place < 0 ? value : (signs[place] ?? 1);
      }),
    ),
    centre: categories.map((category, column) =>
      category ? (signs[zeros.length + places.indexOf(column)] ?? 1) : 0,
    ),
  });
  if (size === 0) return build([]);
  const worth = (signs: readonly number[]) => {
    const { rows, centre } = build(signs);
    return logDeterminant([...rows, centre]);
  };
  let best: readonly number[] = new Array<number>(size).fill(1);
  let most = worth(best);
  const offer = (signs: readonly number[]) => {
    const found = worth(signs);
    if (found > most + 1e-9) {
      best = signs;
      most = found;
    }
  };
  if (size <= EXHAUSTIVE_SIGNS) {
    // The mirror image is the same layout, so the first sign can stay +1.
    for (let code = 0; code < 2 ** (size - 1); code += 1) {
      offer(Array.from({ length: size }, (_, place) => (place > 0 && (code >> (place - 1)) & 1 ? -1 : 1)));
    }
  } else {
    const random = seededRandom(2013);
    for (let start = 0; start < 10; start += 1) {
      offer(Array.from({ length: size }, () => (random.integer(2) === 0 ? 1 : -1)));
      for (let place = 0; place < size; place += 1)
        offer(best.map((sign, other) => (other === place ? -sign : sign)));
    }
  }
  return build(best);
}

/** Log determinant of X′X, by Cholesky: entries are small whole numbers, so nothing is lost. */
function logDeterminant(rows: readonly (readonly number[])[]): number {
  const size = rows[0]?.length ?? 0;
  const cross = Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_unused, j) =>
      rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0),
    ),
  );
  let log = 0;
  for (let pivot = 0; pivot < size; pivot += 1) {
    const lead = cross[pivot]?.[pivot] ?? 0;
    if (lead < 1e-9) return Number.NEGATIVE_INFINITY;
    log += Math.log(lead);
    for (let row = pivot + 1; row < size; row += 1) {
      const share = (cross[row]?.[pivot] ?? 0) / lead;
      for (let column = pivot; column < size; column += 1) {
        const at = cross[row];
        if (at) at[column] = (at[column] ?? 0) - share * (cross[pivot]?.[column] ?? 0);
      }
    }
  }
  return log;
}
