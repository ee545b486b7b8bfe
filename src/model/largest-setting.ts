import { listed } from "../units/index.ts";
import type { Setting } from "../trial/index.ts";
import { modelError } from "./error.ts";
import type { Fit, Prediction } from "./fit.ts";
import type { ObservedFactor } from "./observations.ts";
import { safePieces } from "./safe-pieces.ts";
import type { LargestSetting, LargestSettingOptions, Piece } from "./recipe.ts";

/**
 * The largest setting of one quantity whose one-sided bound keeps a limit with stated assurance, the other factors standing still.
 *
 * Use it to turn a fit into a feed. The bound is that of Student's t for the mean, or for one further run (`for: "next-part"`); on the log
 * scale it is the bound of the median, carried back. The whole range that was cut is searched, because a bound need not rise all the
 * way; the answer is rounded down to the machine's step and judged again as rounded. Refused: categories, other factors outside what
 * was cut (unless `extrapolate` insists), an assurance below 0.5.
 *
 * Source: Draper and Smith, *Applied Regression Analysis* (confidence and prediction limits at a point).
 *
 * Example: Ra = 5 · feed without scatter and the limit 0.8 µm give 0.16 mm/rev.
 */
export function largestSetting(fit: Fit, options: LargestSettingOptions): LargestSetting {
  const {
    factor: name,
    limit,
    side = "at-most",
    assurance = 0.95,
    for: whom = "next-part",
    at = {},
    increment,
  } = options;
  const factor = checkedFactor(fit, name);
  if (!Number.isFinite(limit))
    throw modelError(`the limit ${limit}`, "a finite number in the response's unit");
  if (!(assurance >= 0.5 && assurance < 1))
    throw modelError(`an assurance of ${assurance}`, "a number from 0.5 to below 1, such as 0.95");
  if (increment !== undefined && !(increment > 0))
    throw modelError(`an increment of ${increment}`, "a number above zero");
  const range = searchedRange(fit, factor, options.extrapolate);
  const judge = (setting: number): Judged =>
    judged(fit, { ...at, [name]: setting }, { limit, side, assurance, whom });
  const first = judge(range.low);
  refuseOutside(first.prediction, name, options.extrapolate !== undefined);
  const fixed = { factor: name, unit: factor.unit, limit, side, assurance, for: whom, range };
  if (first.bound === null) {
    const where = {
      settings: first.prediction.at,
      estimate: first.prediction.estimate,
      extrapolation: first.prediction.extrapolation,
    };
    return {
      ...fixed,
      ...where,
      outcome: "no-bound",
      setting: null,
      edge: null,
      bound: null,
      safe: [],
      reason: noBound(fit, first.prediction, whom),
    };
  }
  const gap = (setting: number): number => judge(setting).gap;
  const safe = safePieces(gap, range.low, range.high, { scale: options.scale ?? factor.scale });
  const chosen = machineSetting(safe, gap, increment);
  const nearest = chosen ?? nearestSetting(gap, range);
  const { prediction, bound } = judge(nearest);
  const whole = safe.length === 1 && safe[0].low === range.low && safe[0].high === range.high;
  return {
    ...fixed,
    outcome: chosen === null ? "none" : whole ? "whole-range" : "found",
    setting: chosen,
    edge: safe.at(-1)?.high ?? null,
    settings: prediction.at,
    estimate: prediction.estimate,
    bound,
    safe,
    extrapolation: prediction.extrapolation,
    reason: reasonFor(safe, chosen, whole, increment),
  };
}

interface Judged {
  readonly prediction: Prediction;
  readonly bound: number | null;
  /** Above zero where the bound breaks the limit. */
  readonly gap: number;
}

interface Wanted {
  readonly limit: number;
  readonly side: "at-most" | "at-least";
  readonly assurance: number;
  readonly whom: "mean" | "next-part";
}

function judged(
  fit: Fit,
  at: Readonly<Record<string, Setting>>,
  { limit, side, assurance, whom }: Wanted,
): Judged {
  // The one-sided bound of an assurance is an end of the two-sided interval of 2·assurance − 1.
  const central = assurance === 0.5;
  const prediction = fit.predict(at, central ? {} : { confidence: 2 * assurance - 1 });
  const interval = whom === "mean" ? prediction.mean : prediction.single;
  if (interval === null) return { prediction, bound: null, gap: Infinity };
  const bound = central ? prediction.estimate : side === "at-most" ? interval.high : interval.low;
  return { prediction, bound, gap: side === "at-most" ? bound - limit : limit - bound };
}

function checkedFactor(fit: Fit, name: string): ObservedFactor {
  const factor = fit.factors.find((one) => one.name === name);
  const quantities = fit.factors.filter(({ kind }) => kind === "quantity").map((one) => one.name);
  if (factor?.kind === "quantity") return factor;
  throw modelError(
    factor === undefined ? `the unknown factor "${name}"` : `the category ${name}`,
    `a quantity: ${listed(quantities, "or")}`,
  );
}

function searchedRange(fit: Fit, { name }: ObservedFactor, extrapolate: number | undefined): Piece {
  let low = Infinity;
  let high = -Infinity;
  for (const row of fit.rows) {
    low = Math.min(low, Number(row.settings[name]));
    high = Math.max(high, Number(row.settings[name]));
  }
  if (extrapolate === undefined) return { low, high };
  if (!(extrapolate > high && Number.isFinite(extrapolate))) {
    throw modelError(
      `a search of ${name} up to ${extrapolate}`,
      `a setting above ${high}, the largest that was cut`,
      "Leave extrapolate out to search what was cut.",
    );
  }
  return { low, high: extrapolate };
}

function refuseOutside({ extrapolation, at }: Prediction, factor: string, insisted: boolean): void {
  const others = extrapolation.filter((name) => name !== factor && Object.hasOwn(at, name));
  if (others.length === 0 || insisted) return;
  throw modelError(
    `${listed(others.map((name) => `${name} ${at[name]}`))}, outside what was cut`,
    "settings within what was cut",
    "Cut runs there, or insist with extrapolate.",
  );
}

function noBound(fit: Fit, prediction: Prediction, whom: "mean" | "next-part"): string {
  if (fit.noInterval !== "") return fit.noInterval;
  if (prediction.mean === null) return "it hangs on terms that these runs can't tell apart";
  return whom === "next-part"
    ? "in a weighted fit the scatter of one further run is not known"
    : "the fit has no interval there";
}

/** The largest setting of the machine in the safe stretches, from the top; checked again as rounded. */
function machineSetting(
  safe: readonly Piece[],
  gap: (setting: number) => number,
  increment: number | undefined,
): number | null {
  for (const piece of [...safe].reverse()) {
    const step = increment ?? 10 ** (Math.floor(Math.log10(Math.abs(piece.high) || 1)) - 2);
    // A setting that is a multiple but for rounding counts as one.
    let multiple = Math.floor(piece.high / step + 1e-9);
    for (let tries = 0; tries < 3; tries++, multiple--) {
      const setting = Number((multiple * step).toPrecision(12));
      if (setting < piece.low * (1 - 1e-12)) break;
      if (gap(setting) <= 0) return setting;
    }
    if (increment === undefined && gap(piece.high) <= 0) return piece.high;
  }
  return null;
}

function nearestSetting(gap: (setting: number) => number, { low, high }: Piece): number {
  let best = { setting: low, gap: Infinity };
  for (let k = 0; k <= 64; k++) {
    const setting = low + ((high - low) * k) / 64;
    const here = gap(setting);
    if (here < best.gap) best = { setting, gap: here };
  }
  return best.setting;
}

function reasonFor(
  safe: readonly Piece[],
  chosen: number | null,
  whole: boolean,
  increment: number | undefined,
): string {
  if (chosen === null) {
    return safe.length === 0
      ? "no setting that was searched keeps the limit"
      : `no multiple of ${increment ?? 0} lies among the settings that keep the limit`;
  }
  if (whole) return "every setting of the range keeps the limit, so a larger one may do as well";
  return safe.length > 1
    ? "the settings that keep the limit are not one stretch: some below this one break it"
    : "";
}
