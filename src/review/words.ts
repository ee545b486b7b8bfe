import { listed } from "../units/index.ts";

/** "run 9", "runs 2, 5 and 9", "runs 1 to 24"; long lists are cut with their number said. */
export function runsInWords(runs: readonly number[]): string {
  if (runs.length === 1) return `run ${runs[0]}`;
  const consecutive = runs.every((run, index) => index === 0 || run === runs[index - 1] + 1);
  if (consecutive && runs.length > 2) return `runs ${runs[0]} to ${runs[runs.length - 1]}`;
  if (runs.length > 12) return `${runs.length} runs (${runs.slice(0, 6).join(", ")} and on)`;
  return `runs ${listed(runs.map(String))}`;
}
