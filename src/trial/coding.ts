import { trialError } from "./error.ts";
import type { QuantityFactor } from "./factor.ts";

/**
 * A setting on the coded scale, where low is −1 and high is +1. On a log scale equal ratios are equal distances, and the
 * middle is the geometric mean. Nothing is cut off: axial settings lie beyond ±1.
 *
 * `natural` is in the factor's unit. Refused: a number that is not finite, or not positive on a log scale.
 *
 * @example codedValue({ kind: "quantity", name: "feed", unit: "mm/rev", low: 0.1, high: 0.2, scale: "linear", change: "easy" }, 0.2) // 1
 */
export function codedValue(factor: QuantityFactor, natural: number): number {
  check(factor, natural, factor.scale === "log");
  const { low, high, scale } = factor;
  // The ends are met exactly, whatever the rounding in between.
  if (natural === low) return -1;
  if (natural === high) return 1;
  return scale === "log"
    ? (Math.log(natural / low) - Math.log(high / natural)) / Math.log(high / low)
    : (natural - low - (high - natural)) / (high - low);
}

/**
 * The setting in the factor's unit that stands at a place on the coded scale: the inverse of {@link codedValue}.
 *
 * @example naturalValue({ kind: "quantity", name: "feed", unit: "mm/rev", low: 0.1, high: 0.4, scale: "log", change: "easy" }, 0) // 0.2
 */
export function naturalValue(factor: QuantityFactor, coded: number): number {
  check(factor, coded, false);
  const { low, high, scale } = factor;
  if (coded === -1) return low;
  if (coded === 1) return high;
  return scale === "log"
    ? Math.sqrt(low * high) * Math.exp((coded * Math.log(high / low)) / 2)
    : (low + high) / 2 + (coded * (high - low)) / 2;
}

function check({ name, unit }: QuantityFactor, value: number, mustBePositive: boolean): void {
  if (Number.isFinite(value) && (!mustBePositive || value > 0)) return;
  throw trialError("", [
    {
      path: name,
      given: String(value),
      expected: mustBePositive
        ? `a finite number of ${unit} above zero (its scale is log)`
        : "a finite number",
      mend: "Check the setting.",
    },
  ]);
}
