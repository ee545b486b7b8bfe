import { figureError } from "./error.ts";
import { shownIn, withUnit, type Display } from "./shown.ts";
import { formatNumber } from "../units/index.ts";
import type { Fit, ObservedFactor, Prediction } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

/** A prediction along one factor. */
export interface CurvePoint {
  readonly setting: Setting;
  readonly prediction: Prediction;
}

/** The factor of that name, or a refusal that lists the names there are. */
export function factorOf(fit: Fit, name: string): ObservedFactor {
  const factor = fit.factors.find((each) => each.name === name);
  if (factor !== undefined) return factor;
  throw figureError({
    given: `factor "${name}"`,
    expected: `one of the factors of this fit (${fit.factors.map((each) => each.name).join(", ") || "it has none"})`,
    mend: "Name one of these.",
  });
}

/** The settings of a factor that were cut, each once: numbers rising, levels in their own order. */
export function settingsCut(fit: Fit, factor: ObservedFactor): readonly Setting[] {
  const seen = new Set(fit.rows.map((row) => row.settings[factor.name]).filter((each) => each !== undefined));
  if (factor.kind === "category") return factor.levels.filter((level) => seen.has(level));
  return [...seen].filter((each) => typeof each === "number").sort((a, b) => a - b);
}

/** A setting as a number; a category's level has none and is refused. */
export function numberSetting(setting: Setting | undefined, factor: string): number {
  if (typeof setting === "number" && Number.isFinite(setting)) return setting;
  throw figureError({
    given: `${factor} is ${setting === undefined ? "not given" : `"${String(setting)}"`} in a run`,
    expected: "a number in every run",
    mend: "Correct the run's setting, or make the factor a category.",
  });
}

/** Predictions over the range that was cut (never past it), evenly or in even ratios; one for each level of a category. */
export function curveAlong(
  fit: Fit,
  factor: ObservedFactor,
  at: Readonly<Record<string, Setting>>,
  options: { readonly points?: number; readonly spacing?: "linear" | "log" } = {},
): readonly CurvePoint[] {
  const { points = 61, spacing = "linear" } = options;
  const cut = settingsCut(fit, factor);
  const settings = factor.kind === "category" ? cut : between(cut, points, spacing);
  return settings.map((setting) => ({ setting, prediction: fit.predict({ ...at, [factor.name]: setting }) }));
}

function between(cut: readonly Setting[], points: number, spacing: "linear" | "log"): readonly number[] {
  const low = Number(cut[0]);
  const high = Number(cut.at(-1));
  if (!(high > low)) return cut.map(Number);
  return Array.from({ length: points }, (_, index) => {
    const share = index / (points - 1);
    // The ends as they were cut, to the last bit: a hair outside would be called extrapolation.
    if (index === 0) return low;
    if (index === points - 1) return high;
    return spacing === "log" ? low * (high / low) ** share : low + (high - low) * share;
  });
}

/** "speed 200 m/min, edge fresh": where the other factors stand. */
export function settingsText(
  fit: Fit,
  at: Readonly<Record<string, Setting>>,
  names: readonly string[],
  display: Display,
): string {
  return names
    .map((name) => {
      const setting = at[name];
      if (setting === undefined) return "";
      return `${name} ${settingText(factorOf(fit, name), setting, display)}`;
    })
    .filter((each) => each !== "")
    .join(", ");
}

/** "0.12 mm/rev" or "fresh". */
export function settingText(factor: ObservedFactor, setting: Setting, display: Display): string {
  if (typeof setting === "string") return setting;
  const shown = shownIn(factor.unit, display);
  return withUnit(formatNumber(shown.value(setting)), shown.unit);
}
