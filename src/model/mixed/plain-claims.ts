import { listed } from "../../units/index.ts";
import type { Effect } from "../fit.ts";
import type { EffectContext } from "../effect-sentence.ts";
import { effectsOf } from "../effects.ts";
import type { Solved } from "../solved.ts";
import { sourceWords } from "../source-words.ts";
import { differenceText, isInterval, rounded } from "../words.ts";
import type { PlainClaim } from "./mixed-fit.ts";

/** An interval this much too narrow is worth a warning; below it the two ways say the same in practice. */
const tooNarrow = 1.15;

/** Each effect's interval beside that of plain least squares with the same terms, which takes every row for independent of the others. */
export function plainClaims(
  mixed: Solved,
  plain: Solved,
  effects: readonly Effect[],
  options: {
    readonly context: EffectContext;
    readonly sources: readonly string[];
    readonly dfs: readonly number[];
  },
): readonly PlainClaim[] {
  const byPlain = effectsOf(plain, options.context);
  const { unit } = mixed.observations.response;
  return effects.flatMap((effect, k) => {
    const other = byPlain[k];
    if (!isInterval(effect.value) || !isInterval(other.value)) return [];
    const half = (value: { low: number; high: number }): number =>
      effect.as === "ratio" ? (Math.log(value.high) - Math.log(value.low)) / 2 : (value.high - value.low) / 2;
    const [halfWidth, plainHalfWidth] = [half(effect.value), half(other.value)];
    if (!Number.isFinite(halfWidth) || !Number.isFinite(plainHalfWidth)) return [];
    const told = (width: number): string =>
      effect.as === "ratio"
        ? `×/÷ ${rounded(Math.exp(width), Math.expm1(width))}`
        : `±${rounded(width, width)}${differenceText(unit)}`;
    const { df: plainDf } = plain.solution;
    const df = options.dfs[k];
    const levels = mixed.observations.factors.find(({ name }) => name === effect.factor)?.levels ?? [];
    const what = levels.length > 2 ? `${effect.factor} ${effect.to} against ${effect.from}` : effect.factor;
    const scatter = listed(options.sources.map(sourceWords));
    const text =
      halfWidth > tooNarrow * plainHalfWidth
        ? `Plain least squares would claim too much of ${what}: its interval would be ${told(plainHalfWidth)} on ${dfText(plainDf)}, where the scatter ${scatter === "" ? "that the layout can show" : `between levels of ${scatter}`} allows ${told(halfWidth)} on ${dfText(df)}.`
        : "";
    return [{ factor: effect.factor, to: effect.to, plainHalfWidth, plainDf, halfWidth, df, text }];
  });
}

function dfText(df: number): string {
  const shown = df >= 100 ? String(Math.round(df)) : String(Number(df.toFixed(1)));
  return `${shown} ${shown === "1" ? "degree" : "degrees"} of freedom`;
}
