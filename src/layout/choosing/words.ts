import { differenceUnit, formatNumber, listed } from "../../units/index.ts";
import type { Assessed } from "./assess.ts";
import type { CheckedQuestion } from "./question.ts";

/** Two figures are as many as a guess of σ deserves. */
export function figures(value: number): string {
  return formatNumber(Number(value.toPrecision(2)));
}

/** A size given in σ, in the response's unit where σ is known, else in σ. */
export function sizeWords(question: CheckedQuestion, inSigma: number): string {
  const high = question.sigmaRange?.[1];
  if (high === undefined) return `${figures(inSigma)} σ`;
  return figures(inSigma * high) + (question.unit ? ` ${differenceUnit(question.unit)}` : "");
}

/** The effect that layouts are compared by, as the subject of a sentence. */
export function effectWords(question: CheckedQuestion): string {
  return question.effect === undefined
    ? "an effect of 2 σ"
    : `an effect of ${figures(question.effect)}${question.unit ? ` ${differenceUnit(question.unit)}` : ""}`;
}

export function chanceWords(chance: number): string {
  return chance > 0.995 ? "above 0.99" : chance < 0.005 ? "below 0.01" : chance.toFixed(2);
}

export function passWords(passes: number): string {
  return `${passes} pass${passes === 1 ? "" : "es"}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A layout in a sentence, such as "the half fraction in 12 runs". */
export function layoutWords({ proposal }: Pick<Assessed, "proposal">): string {
  return `${proposal.title} (${proposal.runs} runs)`;
}

/** At most so many words are listed; the rest are counted. */
export function someOf(words: readonly string[], most: number): string {
  if (words.length <= most) return listed(words);
  return `${words.slice(0, most).join(", ")} and ${words.length - most} more`;
}
