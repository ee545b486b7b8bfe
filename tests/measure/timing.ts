import { performance } from "node:perf_hooks";

/** Middle of a few numbers. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

/** Median milliseconds of a task, after one run to warm up. */
export async function medianMs(repeats: number, task: () => unknown): Promise<number> {
  await task();
  const times: number[] = [];
  for (let index = 0; index < repeats; index += 1) {
    const start = performance.now();
    await task();
    times.push(performance.now() - start);
  }
  return median(times);
}

/** One line of the table: what was timed, what came out, what it stands beside, what was aimed at. */
export interface Measured {
  readonly what: string;
  readonly figure: string;
  readonly beside: string;
  readonly aim: string;
  readonly met: boolean | null;
}
