import type { ArrayColumns } from "./linear-array.ts";

/** True where every pair of levels of every two columns stands in equally many runs. */
export function isBalanced(columns: ArrayColumns, levels: readonly number[]): boolean {
  const runs = columns[0]?.length ?? 0;
  return columns.every((one, first) =>
    columns.slice(first + 1).every((other, index) => {
      const [own, second] = [levels[first] ?? 0, levels[first + 1 + index] ?? 0];
      const counts = new Array<number>(own * second).fill(0);
      one.forEach((level, run) => {
        const cell = level * second + (other[run] ?? 0);
        counts[cell] = (counts[cell] ?? 0) + 1;
      });
      return counts.every((count) => count * own * second === runs);
    }),
  );
}
