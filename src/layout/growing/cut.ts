import { settingsAsCut, type Factor, type Run, type Setting } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { sameSetting } from "../levels.ts";
import type { Cut, Grown } from "./growth.ts";

/** A trial, or bare runs, in the one form that every way of growing reads. Refuses a trial that is not laid out. */
export function cutOf(grown: Grown): Cut {
  const bare = "factors" in grown;
  const factors = bare ? grown.factors : grown.spec.factors;
  if (grown.runs.length === 0) {
    throw new LayoutError(
      "grow: the trial has no runs yet. Lay it out first; growing adds to runs that stand.",
    );
  }
  const planned = [...grown.runs].sort((one, other) => one.run - other.run);
  return {
    factors,
    planned,
    asCut: bare
      ? planned
      : planned.map((run): Run => ({ ...run, settings: { ...settingsAsCut(grown, run) } })),
    spec: bare ? null : grown.spec,
  };
}

/** The different settings of a factor in the plan, numbers rising and levels as the factor lists them. */
export function plannedLevels(factor: Factor, runs: readonly Run[]): readonly Setting[] {
  const seen: Setting[] = [];
  for (const run of runs) {
    const setting = run.settings[factor.name];
    if (setting !== undefined && !seen.some((other) => sameSetting(other, setting))) seen.push(setting);
  }
  return factor.kind === "category"
    ? factor.levels.filter((level) => seen.includes(level))
    : seen.filter((setting) => typeof setting === "number").sort((one, other) => one - other);
}

/** Runs that carry the factors' changes: not centres, anchors, axial or proof runs, and not single runs that were added. */
export function cornersOf(cut: Cut): readonly Run[] {
  return cut.planned.filter(({ role }) => !["centre", "anchor", "axial", "proof", "added"].includes(role));
}
