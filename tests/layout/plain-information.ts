/** A second road for tests: criteria of a design from rows written out by hand, by Gaussian elimination on plain lists. */

export type Row = readonly number[];

/** X′V⁻¹X; `plotOf` names the whole plot of each row, `varianceRatio` the variance between them beside that between runs. */
export function information(
  rows: readonly Row[],
  plotOf: readonly number[] = rows.map((_, index) => index),
  varianceRatio = 0,
): number[][] {
  const size = rows[0]?.length ?? 0;
  const total = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const addOuter = (row: Row, by: number) => {
    for (let i = 0; i < size; i += 1) for (let j = 0; j < size; j += 1) total[i][j] += by * row[i] * row[j];
  };
  for (const row of rows) addOuter(row, 1);
  if (varianceRatio === 0) return total;
  for (const plot of new Set(plotOf)) {
    const own = rows.filter((_, index) => plotOf[index] === plot);
    const sum = own[0].map((_, i) => own.reduce((all, row) => all + row[i], 0));
    addOuter(sum, -varianceRatio / (1 + own.length * varianceRatio));
  }
  return total;
}

/** Determinant and inverse of a symmetric positive matrix; determinant 0 where it is singular. */
export function solved(matrix: readonly Row[]): {
  readonly determinant: number;
  readonly inverse: number[][];
} {
  const size = matrix.length;
  const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let determinant = 1;
  for (let column = 0; column < size; column += 1) {
    const lead = work[column][column];
    if (lead < 1e-9) return { determinant: 0, inverse: [] };
    determinant *= lead;
    for (let k = 0; k < 2 * size; k += 1) work[column][k] /= lead;
    for (let row = 0; row < size; row += 1) {
      const share = work[row][column];
      if (row === column || share === 0) continue;
      for (let k = 0; k < 2 * size; k += 1) work[row][k] -= share * work[column][k];
    }
  }
  return { determinant, inverse: work.map((row) => row.slice(size)) };
}

/** The value that a criterion makes small: one over the determinant, the trace of the inverse, or of moments × inverse. */
export function lossOf(
  matrix: readonly Row[],
  criterion: "D" | "A" | "I",
  moments: readonly Row[] = [],
): number {
  const { determinant, inverse } = solved(matrix);
  if (determinant === 0) return Number.POSITIVE_INFINITY;
  if (criterion === "D") return 1 / determinant;
  let sum = 0;
  for (let i = 0; i < inverse.length; i += 1) {
    if (criterion === "A") sum += inverse[i][i];
    else for (let j = 0; j < inverse.length; j += 1) sum += moments[i][j] * inverse[i][j];
  }
  return sum;
}

/** Every choice of `count` of the items, each as often as it likes, order apart. */
export function* choices<Item>(items: readonly Item[], count: number, from = 0): Generator<readonly Item[]> {
  if (count === 0) yield [];
  else
    for (let index = from; index < items.length; index += 1)
      for (const rest of choices(items, count - 1, index)) yield [items[index], ...rest];
}
