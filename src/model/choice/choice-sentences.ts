import { listed } from "../../units/index.ts";
import { differenceText, isInterval, percent, rounded, unitText } from "../words.ts";
import type { ChoiceBootstrap, ChoiceFigure } from "./choice-figures.ts";

/** Terms beyond these are not told by name. */
const mostTold = 6;

/** What choosing anew says: each figure with its interval, how steady the choice is, and how far to trust it. */
export function choiceSentences(told: Omit<ChoiceBootstrap, "sentences">): readonly string[] {
  const { fit, figures, chosen, draws, asked, seed, stopped } = told;
  const always = chosen.slice(0, mostTold).map(({ label, share }) => `${label} in ${hundred(share)}`);
  return [
    `${draws.toLocaleString("en")} trials drawn about the models within reach, seed ${seed}; in each the model was chosen anew.${
      stopped ? ` Stopped before all of ${asked.toLocaleString("en")} were drawn.` : ""
    }`,
    ...figures.map((figure) => figureSentence(figure, fit.response)),
    ...(always.length === 0 ? [] : [`Of 100 draws these were chosen: ${listed(always)}.`]),
    ...(draws < 200 ? [] : [howOftenHeld]),
  ];
}

function figureSentence(
  { what, label, as, value, byFit }: ChoiceFigure,
  { name, unit }: ChoiceBootstrap["fit"]["response"],
): string {
  const does =
    what === "prediction"
      ? `At ${label}, ${name} is`
      : `${label} ${as === "ratio" ? "multiplies" : "changes"} ${name} by`;
  if (!isInterval(value)) return `${does} ${value.text}.`;
  const half = (value.high - value.low) / 2;
  const own =
    byFit !== null && isInterval(byFit)
      ? `; by the fit of the chosen model alone ${rounded(byFit.low, half)} to ${rounded(byFit.high, half)}`
      : what === "effect"
        ? "; it was not chosen"
        : "";
  return `${does} ${rounded(value.estimate, half)}${as === "ratio" ? "" : (what === "prediction" ? unitText : differenceText)(unit)} (${percent(value.confidence)} ${rounded(value.low, half)} to ${rounded(value.high, half)}${own}).`;
}

function hundred(share: number): string {
  const value = Math.round(100 * share);
  return value === 0 ? "fewer than 1" : String(value);
}

/** The figures of tests/simulation/choosing.md. */
const howOftenHeld =
  "How far to trust them: of 2,000 drawn trials of 12 runs, with effects from nothing to twice the scatter, such intervals asked at 95 % held the truth in 89 to 97 of 100, and those of the chosen model's own fit in 51 to 89.";
