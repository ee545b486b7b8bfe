import { listed } from "../../units/index.ts";
import type { SeededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import { settingsKey } from "../levels.ts";
import type { StandardRun } from "../layout.ts";

export function hardFactors(factors: readonly Factor[]): readonly Factor[] {
  return factors.filter((factor) => factor.change === "hard");
}

/**
 * Runs in random order as far as hard factors allow: runs at one setting of the hard factors stay together as a whole plot,
 * each replicate as whole plots of its own; the whole plots are shuffled, and the runs in each.
 */
export function inWholePlots(
  factors: readonly Factor[],
  runs: readonly StandardRun[],
  random: SeededRandom,
): readonly (readonly StandardRun[])[] {
  const hard = hardFactors(factors);
  const seen = new Map<string, number>();
  const plots = new Map<string, StandardRun[]>();
  for (const run of runs) {
    const whole = settingsKey(factors, run.settings);
    const replicate = seen.get(whole) ?? 0;
    seen.set(whole, replicate + 1);
    const key = `${replicate} ${settingsKey(hard, run.settings)}`;
    plots.set(key, [...(plots.get(key) ?? []), run]);
  }
  return random.shuffle([...plots.values()]).map((plot) => random.shuffle(plot));
}

/** What the order does for hard factors, and what that costs. */
export function wholePlotRules(factors: readonly Factor[], plots: number, seed: number): readonly string[] {
  const names = listed(hardFactors(factors).map((factor) => factor.name));
  const several = hardFactors(factors).length > 1;
  return [
    `${names} ${several ? "are" : "is"} hard to change and set anew ${plots} times, also where the setting stays the same; whole plots, and the runs in each, stand in random order, drawn from seed ${seed}.`,
    `What ${names} ${several ? "do" : "does"} is known by the scatter between whole plots: analyse as a split plot.`,
  ];
}
