import { differenceUnit, formatNumber } from "../units/index.ts";
import type { Setting } from "../trial/index.ts";
import type { Interval, Uncertain } from "./fit.ts";
import type { ObservedFactor } from "./observations.ts";

/** "95 %" for 0.95, "99.9 %" for 0.999. */
export function percent(confidence: number): string {
  return `${Number((100 * confidence).toPrecision(6))} %`;
}

/**
 * A number to the places that a half-width can bear: up to its second digit where it begins with 10 to 35, else up to its first, so that
 * rounding moves nothing by more than a seventh of the half-width.
 */
export function rounded(value: number, halfWidth: number): string {
  if (!(halfWidth > 0 && Number.isFinite(halfWidth))) return formatNumber(value, { digits: 4 });
  const lead = halfWidth / 10 ** Math.floor(Math.log10(halfWidth));
  return formatNumber(value, { uncertainty: lead < 3.55 ? halfWidth : 10 * halfWidth });
}

/** An interval with its text, "0.45, 95 % 0.38 to 0.53"; the reason why there is none where an end is beyond the range of numbers. */
export function interval(estimate: number, low: number, high: number, confidence: number): Uncertain {
  if (!Number.isFinite(low) || !Number.isFinite(high) || !Number.isFinite(estimate)) {
    return withReason(
      Number.isFinite(estimate) ? estimate : null,
      "its ends are beyond the largest number: the readings lie too many powers of ten apart",
    );
  }
  return {
    estimate,
    low,
    high,
    confidence,
    // Made when read: a fit holds many intervals, and few of them are ever shown.
    get text() {
      const half = (high - low) / 2;
      return `${rounded(estimate, half)}, ${percent(confidence)} ${rounded(low, half)} to ${rounded(high, half)}`;
    },
  };
}

/** What stands in an interval's place where there can't be one. */
export function withReason(estimate: number | null, reason: string): Uncertain {
  const text =
    estimate === null ? reason : `${formatNumber(estimate, { digits: 3 })} (no interval: ${reason})`;
  return { estimate, reason, text };
}

export function isInterval(value: Uncertain): value is Interval {
  return "low" in value;
}

/** " µm", or nothing for numbers that have no unit to show. */
export function unitText(unit: string): string {
  return unit === "" || unit === "1" || unit === "coded" || unit === "as given" ? "" : ` ${unit}`;
}

/** The same for a difference or a scatter: " percentage points" for readings in %. */
export function differenceText(unit: string): string {
  return unitText(differenceUnit(unit));
}

/** "0.08" or "fresh"; a number of more than six digits, which was computed, to four. */
export function settingNumber(setting: Setting): string {
  return typeof setting === "string" ? setting : formatNumber(setting);
}

/** "feed 0.15 mm/rev", "edge used". */
export function settingWithUnit(factor: ObservedFactor, setting: Setting): string {
  return `${factor.name} ${settingNumber(setting)}${typeof setting === "string" ? "" : unitText(factor.unit)}`;
}

export { pText } from "../units/index.ts";
