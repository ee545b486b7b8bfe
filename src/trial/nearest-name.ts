/**
 * The known name that was most likely meant: at most a third of its letters apart (insertions, deletions, changes and
 * swapped neighbours, capitals not counted). Null where no known name is so near.
 *
 * @example nearestName("replicate", ["replicates", "centrePoints"]) // "replicates"
 */
export function nearestName(given: string, known: readonly string[]): string | null {
  const ranked = known
    .map((name) => ({ name, apart: lettersApart(given.toLowerCase(), name.toLowerCase()) }))
    .filter(({ name, apart }) => apart <= Math.max(1, Math.floor(Math.max(name.length, given.length) / 3)))
    .sort((a, b) => a.apart - b.apart);
  return ranked[0]?.name ?? null;
}

/** Optimal string alignment distance (Damerau 1964, with no letter edited twice). */
function lettersApart(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, beforeLast[j - 2] + 1);
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length];
}
