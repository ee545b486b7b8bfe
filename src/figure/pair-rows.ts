import { differenceUnit } from "../units/index.ts";
import { quantityAxis, type Axis } from "./axis.ts";
import { sentenceWidth, type EffectRow } from "./effect-rows.ts";
import { lettering } from "./palette.ts";
import { shownIn, type Display } from "./shown.ts";
import { wrapped } from "./text-width.ts";
import { isInterval, type LevelPair } from "../model/index.ts";

/** A pair of levels as a figure draws it: its sentence, and how its mark looks. */
export interface DrawnPair extends Pick<LevelPair, "from" | "to" | "as" | "value" | "p" | "sentence"> {
  /** A filled mark: the interval says something. */
  readonly clear: boolean;
  /** False for a mark of caution. */
  readonly alone: boolean;
}

const lineHeight = 15.5;
const firstTop = 36;

/** Pairs from the top of the sheet down, in shown units, as rows of intervals. */
export function pairRows(
  pairs: readonly DrawnPair[],
  options: { readonly factor: string; readonly unit: string; readonly display: Display },
): readonly EffectRow[] {
  const told = differenceIn(options.unit, options.display);
  let top = firstTop;
  return pairs.map((pair): EffectRow => {
    const { value, as, from, to, p, sentence: text } = pair;
    const number = (given: number | null): number | null =>
      given === null || as === "ratio" ? given : told(given);
    const sentence = wrapped(text, sentenceWidth, lettering.small, { most: 7 });
    const height = Math.max(64, (sentence.length + 1) * lineHeight + 26);
    const row = {
      effect: { factor: options.factor, from, to, as, value, p, pAll: p, sentence: text },
      name: `${options.factor} ${to} against ${from}`,
      sentence,
      estimate: number(value.estimate),
      low: isInterval(value) ? number(value.low) : null,
      high: isInterval(value) ? number(value.high) : null,
      clear: pair.clear,
      alone: pair.alone,
      reason: isInterval(value) ? "" : value.reason,
      top,
      height,
    };
    top += height;
    return row;
  });
}

/** A difference in the reader's unit: temperatures and the like have no zero to carry over. */
export function differenceIn(unit: string, display: Display): (difference: number) => number {
  const shown = shownIn(unit, display);
  const zero = shown.value(0);
  return (difference) => shown.value(difference) - zero;
}

/** The axis of differences or ratios that holds these rows and `also`. */
export function pairAxis(
  rows: readonly EffectRow[],
  options: {
    readonly response: { readonly name: string; readonly unit: string };
    readonly ratio: boolean;
    readonly display: Display;
    readonly also?: readonly number[];
  },
): Axis {
  const { response, ratio, display, also = [] } = options;
  const values = rows.flatMap((row) => [row.estimate, row.low, row.high]).filter((value) => value !== null);
  const axis = quantityAxis({
    name: ratio ? `ratio of ${response.name}` : `difference of ${response.name}`,
    unit: ratio ? "" : differenceUnit(shownIn(response.unit, display).unit),
    values: [ratio ? 1 : 0, ...also, ...values],
    log: ratio ? "log" : "linear",
    count: 5,
    margin: 0.1,
  });
  return { ...axis, texts: axis.texts.map((text) => (ratio ? `×${text}` : text)) };
}
