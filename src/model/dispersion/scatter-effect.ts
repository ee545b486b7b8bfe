import type { Setting } from "../../trial/index.ts";
import { formatNumber } from "../../units/index.ts";
import type { Uncertain } from "../fit.ts";
import type { ObservedFactor } from "../observations.ts";
import { isInterval, pText, percent, settingNumber, unitText } from "../words.ts";

/** What one factor does to the scatter: the ratio of standard deviations, `to` over `from`. */
export interface ScatterEffect {
  readonly factor: string;
  readonly from: Setting;
  readonly to: Setting;
  /** Ratio of standard deviations. */
  readonly value: Uncertain;
  readonly p: number | null;
  readonly sentence: string;
}

/** An effect on scatter in the shop's words. */
export function scatterSentence(
  { from, to, value, p }: Omit<ScatterEffect, "sentence">,
  factor: ObservedFactor,
  response: string,
): string {
  const unit = typeof to === "string" ? "" : unitText(factor.unit);
  const change = `${factor.name} from ${settingNumber(from)} to ${settingNumber(to)}${unit}`;
  if (!isInterval(value))
    return `What ${factor.name} does to the scatter of ${response} can't be told: ${value.reason}.`;
  const { low, high, estimate, confidence } = value;
  // Two digits, and a third where it would else read as no change at all.
  const shown = (number: number): string => {
    const text = formatNumber(number, { digits: 2 });
    return number !== 1 && text === "1.0" ? formatNumber(number, { digits: 3 }) : text;
  };
  const range = `${percent(confidence)} ${shown(low)} to ${shown(high)}${p === null ? "" : `, p ${pText(p)}`}`;
  if (low > 1 || high < 1)
    return `Changing ${change} makes the standard deviation of ${response} ${shown(estimate)} times as large (${range}).`;
  return `No difference in the scatter of ${response} was seen on changing ${change}; one by a factor up to ${shown(Math.max(high, 1 / low))} could have been missed (${range}).`;
}
