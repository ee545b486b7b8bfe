import { factorOf, settingText } from "./fit-curve.ts";
import type { Letters } from "./letters.ts";
import { lettering } from "./palette.ts";
import { shownIn, withUnit, type Display } from "./shown.ts";
import { toldApart } from "./told-apart.ts";
import { wrapped } from "./text-width.ts";
import type { Effect, Fit, ObservedFactor } from "../model/index.ts";

/** How wide the sentences are. */
export const sentenceWidth = 286;
const lineHeight = 15.5;

/** An effect in shown units, with its place on the sheet. */
export interface EffectRow {
  readonly effect: Effect;
  readonly name: string;
  readonly sentence: readonly string[];
  readonly estimate: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** True where the interval keeps to one side of no change. */
  readonly clear: boolean;
  /** False where other factors moved along, so that it may be their effect. */
  readonly alone: boolean;
  readonly reason: string;
  readonly top: number;
  readonly height: number;
}

/** The effects from the top of the sheet down, largest first or as given. */
export function effectRows(fit: Fit, display: Display, order: "size" | "given"): readonly EffectRow[] {
  const shown = shownIn(fit.response.unit, display);
  const zero = shown.value(0);
  const size = ({ value, as }: Effect): number =>
    value.estimate === null ? -1 : Math.abs(as === "ratio" ? Math.log(value.estimate) : value.estimate);
  const effects = order === "given" ? fit.effects : [...fit.effects].sort((a, b) => size(b) - size(a));
  let top = 36;
  return effects.map((effect) => {
    const { value, as } = effect;
    const told = (number: number | null): number | null =>
      number === null || as === "ratio" ? number : shown.value(number) - zero;
    const interval = "low" in value ? value : null;
    const none = as === "ratio" ? 1 : 0;
    const factor = factorOf(fit, effect.factor);
    const name = `${effect.factor}, ${rangeText(factor, effect, display)}`;
    const sentence = wrapped(effect.sentence, sentenceWidth, lettering.small, { most: 6 });
    const height = Math.max(64, (sentence.length + 1) * lineHeight + 26);
    const row = {
      effect,
      name,
      sentence,
      estimate: told(value.estimate),
      low: told(interval?.low ?? null),
      high: told(interval?.high ?? null),
      alone: toldApart(fit, factor),
      clear: interval !== null && (interval.low > none || interval.high < none),
      reason: "reason" in value ? value.reason : "",
      top,
      height,
    };
    top += height;
    return row;
  });
}

/** "0.08 to 0.24 mm/rev", the unit once; "fresh to used". */
function rangeText(factor: ObservedFactor, effect: Effect, display: Display): string {
  const to = settingText(factor, effect.to, display);
  const from = settingText(factor, effect.from, display);
  const unit = typeof effect.from === "number" ? withUnit("", shownIn(factor.unit, display).unit) : "";
  return `${unit !== "" && from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
}

/** A row's name and sentence, in the middle of its height. */
export function rowLetters(row: EffectRow): readonly Letters[] {
  const lines = row.sentence.length + 1;
  const first = row.top + (row.height - lines * lineHeight) / 2 + 12;
  return [
    {
      x: 16,
      y: first,
      text: wrapped(row.name, sentenceWidth, lettering.usual, { most: 1, weight: "bold" })[0],
      anchor: "start",
      size: lettering.usual,
      weight: "bold",
    },
    ...row.sentence.map((text, index) => ({
      x: 16,
      y: first + (index + 1) * lineHeight,
      text,
      anchor: "start" as const,
    })),
  ];
}
