import { formatNumber } from "../../units/index.ts";
import { differenceText, isInterval, percent, pText, rounded } from "../words.ts";
import type { Interval } from "../fit.ts";
import type { LevelPair } from "./comparison.ts";

export interface PairWords {
  readonly factor: string;
  readonly response: { readonly name: string; readonly unit: string };
  /** How many pairs the interval holds for together. */
  readonly pairs: number;
  readonly confidence: number;
  /** What is compared: means, or the readings themselves. */
  readonly of: "means" | "readings";
}

/** A pair in the shop's words: how far apart and how sure, or what could have been missed. */
export function pairSentence(pair: Omit<LevelPair, "sentence">, words: PairWords): string {
  const { from, to, value, as, p } = pair;
  const { factor, response } = words;
  const { name } = response;
  const unit = as === "ratio" ? "" : differenceText(response.unit);
  if (!isInterval(value)) {
    const size =
      value.estimate === null
        ? ""
        : ` (${as === "ratio" ? "a factor of " : ""}${formatNumber(value.estimate, { digits: 3 })}${unit} in these runs)`;
    return `How far ${name} with ${factor} ${to} is from that with ${from}${size} can't be judged: ${value.reason}.`;
  }
  const { low, high, estimate } = value;
  const none = as === "ratio" ? 1 : 0;
  const shown = (end: number): string => endText(end, value, as);
  const said = p === null ? "" : `, p ${pText(p)}`;
  const together = `${percent(words.confidence)}${words.pairs > 1 ? ` for all ${words.pairs} pairs together` : ""}`;
  if (low <= none && high >= none) {
    if (p !== null && p < 1 - words.confidence)
      return `${name} differs between ${factor} ${to} and ${from} by Holm's steps (p ${pText(p)}), though the interval that holds for all pairs (${together}: ${shown(low)} to ${shown(high)}${unit}) still reaches no difference.`;
    const missed =
      as === "ratio"
        ? `one by a factor up to ${shown(Math.max(high, 1 / low))}`
        : `one up to ${shown(Math.max(high, -low))}${unit}`;
    return `No difference in ${name} between ${factor} ${to} and ${from} was seen; ${missed} could have been missed (${together}: ${shown(low)} to ${shown(high)}${unit}${said}).`;
  }
  const start = `With ${factor} ${to}, ${words.of === "means" ? "" : "a typical "}${name} is`;
  if (as === "ratio")
    return `${start} ${shown(estimate)} times that with ${from} (${together}: ${shown(low)} to ${shown(high)}${said}).`;
  const [near, far] = estimate < 0 ? [-high, -low] : [low, high];
  return `${start} ${shown(Math.abs(estimate))}${unit} ${estimate < 0 ? "lower" : "higher"} than with ${from} (${together}: ${shown(near)} to ${shown(far)}${said}).`;
}

/** A number to the places that its interval can bear, and to one more where it would else read as no difference at all. */
function endText(end: number, { low, high }: Interval, as: LevelPair["as"]): string {
  const none = as === "ratio" ? 1 : 0;
  const text = (factor: number): ((value: number) => string) =>
    as === "ratio" && high / low > 2
      ? (value) => formatNumber(value, { digits: factor === 1 ? 2 : 3 })
      : (value) => rounded(value, (factor * (high - low)) / 2);
  const usual = text(1);
  return end !== none && usual(end) === usual(none) ? text(0.1)(end) : usual(end);
}
