import { figureError } from "./error.ts";
import { shownIn, withUnit, type Display } from "./shown.ts";
import { formatNumber } from "../units/index.ts";
import { settingsAsCut, type Factor, type Run, type RunRole, type Trial } from "../trial/index.ts";

/** Runs in cutting order with the factors that they set: a trial, or a layout with the factors it was made for. */
export type PlannedRuns = Trial | { readonly runs: readonly Run[]; readonly factors: readonly Factor[] };

/** Runs with the settings at which they were, or will be, cut. */
export function plannedRuns(input: PlannedRuns): {
  readonly runs: readonly Run[];
  readonly factors: readonly Factor[];
} {
  const { runs, factors } = "spec" in input ? asCut(input) : input;
  if (runs.length === 0 || factors.length === 0) {
    throw figureError({
      given: runs.length === 0 ? "a plan without runs" : "a plan without factors",
      expected: "at least one run and one factor",
      mend: "Lay out the trial first.",
    });
  }
  return { runs: [...runs].sort((a, b) => a.run - b.run), factors };
}

function asCut(trial: Trial): { readonly runs: readonly Run[]; readonly factors: readonly Factor[] } {
  return {
    runs: trial.runs.map((run) => ({ ...run, settings: settingsAsCut(trial, run) })),
    factors: trial.spec.factors,
  };
}

/** The factor of that name among these, or a refusal that lists them. */
export function plannedFactor(factors: readonly Factor[], name: string): Factor {
  const factor = factors.find((each) => each.name === name);
  if (factor !== undefined) return factor;
  throw figureError({
    given: `factor "${name}"`,
    expected: `one of ${factors.map((each) => each.name).join(", ")}`,
    mend: "Name one of these.",
  });
}

/** A factor's scale for drawing runs: places of settings, and the settings that occur, with their texts. */
export interface SettingScale {
  readonly factor: Factor;
  readonly unit: string;
  readonly log: "linear" | "log";
  /** The place of a run's setting: the shown number, or the level's index. */
  readonly placeOf: (run: Run) => number;
  readonly places: readonly number[];
  readonly texts: readonly string[];
}

export function settingScale(factor: Factor, runs: readonly Run[], display: Display): SettingScale {
  if (factor.kind === "category") {
    const used = new Set(runs.map((run) => run.settings[factor.name]));
    const levels = factor.levels.filter((level) => used.has(level));
    return {
      factor,
      unit: "",
      log: "linear",
      placeOf: (run) => levels.indexOf(String(run.settings[factor.name] ?? "")),
      places: levels.map((_, index) => index),
      texts: levels,
    };
  }
  const shown = shownIn(factor.unit, display);
  const placeOf = (run: Run): number => {
    const setting = run.settings[factor.name];
    if (typeof setting === "number" && Number.isFinite(setting)) return shown.value(setting);
    throw figureError({
      given: `${factor.name} of run ${run.run} is ${setting === undefined ? "not given" : `"${setting}"`}`,
      expected: `a number of ${factor.unit}`,
      mend: "Correct the run's setting.",
    });
  };
  const places = [...new Set(runs.map(placeOf))].sort((a, b) => a - b);
  const log = factor.scale === "log" && places.every((place) => place > 0) ? "log" : "linear";
  return {
    factor,
    unit: shown.unit,
    log,
    placeOf,
    places,
    texts: places.map((place) => formatNumber(Number(place.toPrecision(4)))),
  };
}

/** "0.12 mm/rev" or "fresh", for a place of the scale. */
export function placeText(scale: SettingScale, place: number): string {
  return withUnit(scale.texts[scale.places.indexOf(place)], scale.unit);
}

/** How a role is called in a key. */
export const roleNames: Readonly<Record<RunRole, string>> = {
  corner: "corner",
  level: "level",
  centre: "centre point",
  axial: "axial point",
  edge: "edge point",
  anchor: "anchor run",
  given: "given run",
  added: "added run",
  proof: "proof run",
};
