/**
 * So many columns of an orthogonal table of signs (its first column all +1) on which products of two columns lean least: taken
 * one by one, each the one whose largest share of a product of two taken before is the smallest, the earlier one among equals.
 * The first columns are kept where that finds none better: tables made by doubling put columns beside each other whose product is
 * nearly or wholly a third one.
 *
 * Example: of the 100-run table the first 15 columns lean on a product by 0.92, those that are taken by 0.20.
 */
export function leastLeaningColumns(
  matrix: readonly (readonly number[])[],
  count: number,
): readonly number[] {
  const size = matrix.length;
  const columns = Array.from({ length: size - 1 }, (_, column) => matrix.map((row) => row[column + 1] ?? 0));
  const first = columns.slice(0, count).map((_, column) => column);
  const most = new Float64Array(size - 1);
  const taken: number[] = [];
  let worst = 0;
  while (taken.length < count) {
    let best = -1;
    for (let column = 0; column < size - 1; column += 1) {
      if (taken.includes(column)) continue;
      // Shares are whole numbers over the runs: half of one parts them from rounding.
      if (best < 0 || (most[column] ?? 0) < (most[best] ?? 0) - 0.5 / size) best = column;
    }
    worst = Math.max(worst, most[best] ?? 0);
    for (const other of taken) {
      const pair = (columns[best] ?? []).map((value, run) => value * (columns[other]?.[run] ?? 0));
      columns.forEach((column, place) => {
        const share = Math.abs(column.reduce((sum, value, run) => sum + value * (pair[run] ?? 0), 0)) / size;
        if (share > (most[place] ?? 0)) most[place] = share;
      });
    }
    taken.push(best);
  }
  if (count === size - 1) return first;
  return worst < largestShare(columns, first) - 0.5 / size ? taken : first;
}

function largestShare(columns: readonly (readonly number[])[], chosen: readonly number[]): number {
  let most = 0;
  chosen.forEach((one, a) =>
    chosen.slice(a + 1).forEach((other, b) =>
      chosen.slice(a + b + 2).forEach((third) => {
        const sum = (columns[one] ?? []).reduce(
          (total, value, run) => total + value * (columns[other]?.[run] ?? 0) * (columns[third]?.[run] ?? 0),
          0,
        );
        most = Math.max(most, Math.abs(sum) / (columns[one]?.length ?? 1));
      }),
    ),
  );
  return most;
}
