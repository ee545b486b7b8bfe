import { listed } from "../units/index.ts";
import type { Source } from "./design.ts";
import type { Effect, InseparableSet, Interval, Unreplicated } from "./fit.ts";
import { jointTest } from "./judged.ts";
import type { ObservedFactor } from "./observations.ts";
import type { Solved } from "./solved.ts";
import { differenceText, isInterval, percent, pText, rounded, settingNumber, unitText } from "./words.ts";

/** What effects are told with, besides the solution itself. */
export interface EffectContext {
  readonly inseparable: readonly InseparableSet[];
  readonly unreplicated: Unreplicated | null;
  readonly noInterval: string;
}

export interface SentenceContext {
  readonly solved: Solved;
  readonly factor: ObservedFactor;
  /** The terms that the factor has a part in. */
  readonly sources: readonly Source[];
  readonly context: EffectContext;
  /** False where other terms moved along with the factor. */
  readonly estimable: boolean;
}

/** An effect in the shop's words: what was done, what it did, how sure; where nothing was seen, what could have been missed. */
export function effectSentence(effect: Omit<Effect, "sentence">, given: SentenceContext): string {
  const { value } = effect;
  if (isInterval(value)) {
    const seen = effect.as === "ratio" ? value.low > 1 || value.high < 1 : value.low > 0 || value.high < 0;
    return seen ? seenSentence(effect, value, given) : unseenSentence(effect, value, given);
  }
  if (value.estimate === null) return `The effect of ${effect.factor} can't be told: ${value.reason}.`;
  const half = bearable(effect.as, value.estimate, given.context.unreplicated);
  const done = changed(effect, given.factor);
  const result =
    effect.as === "ratio" ? multiplied(value.estimate, half, given) : moved(value.estimate, half, given);
  return `${done} ${result}. ${standsOut(effect.factor, given)}`;
}

/** What an effect without an interval is rounded to: the margin of inert effects where there is one, else three digits. */
function bearable(as: Effect["as"], estimate: number, unreplicated: Unreplicated | null): number {
  const margin = unreplicated?.margin ?? 0;
  if (margin > 0) return as === "ratio" ? estimate * margin : margin;
  return Math.abs(estimate) / 100;
}

function seenSentence(effect: Omit<Effect, "sentence">, value: Interval, given: SentenceContext): string {
  const half = (value.high - value.low) / 2;
  const { low, high, confidence, estimate } = value;
  const falls = effect.as === "difference" && estimate < 0;
  const [near, far] = falls ? [-high, -low] : [low, high];
  const result = effect.as === "ratio" ? multiplied(estimate, half, given) : moved(estimate, half, given);
  const range = `${percent(confidence)} ${rounded(near, half)} to ${rounded(far, half)}`;
  const varies = depends(given);
  const tail = varies === "" ? "" : ` How much depends on ${varies}.`;
  return `${changed(effect, given.factor)} ${result} (${range}).${tail}${together(effect, given)}`;
}

function unseenSentence(effect: Omit<Effect, "sentence">, value: Interval, given: SentenceContext): string {
  const { observations, confidence } = given.solved;
  const response = observations.response.name;
  const half = (value.high - value.low) / 2;
  if (effect.pAll !== null && effect.pAll < 1 - confidence) {
    const varies = depends(given);
    const bends = given.sources.some(({ term }) => Object.keys(term).length === 1 && term[effect.factor] > 1);
    const why =
      varies === ""
        ? bends
          ? `${response} bends in between`
          : "the runs show it"
        : `what it does depends on ${varies}`;
    const range = `${percent(confidence)} ${rounded(value.low, half)} to ${rounded(value.high, half)}`;
    const ends = `from ${settingNumber(effect.from)} to ${settingNumber(effect.to)}${unitOf(effect, given.factor)}`;
    const size =
      effect.as === "ratio" ? `a ratio of ${range}` : `${range}${differenceText(observations.response.unit)}`;
    return `There is an effect of ${effect.factor} on ${response} (p ${pText(effect.pAll)}), though ${ends} no change was seen on average (${size}): ${why}.`;
  }
  const { low, high, estimate } = value;
  const nothing = effect.as === "ratio" ? 1 : 0;
  if (low === nothing && high === nothing && estimate === nothing) {
    return `No effect of ${effect.factor} on ${response} was seen: every run read the same.`;
  }
  const missed =
    effect.as === "ratio"
      ? `a change by a factor up to ${rounded(Math.max(value.high, 1 / value.low), half)}`
      : `an effect up to ${rounded(Math.max(value.high, -value.low), half)}${differenceText(observations.response.unit)}`;
  const what =
    given.factor.kind === "category" && given.factor.levels.length > 2
      ? `${effect.factor} ${effect.to} against ${effect.from}`
      : effect.factor;
  return `No effect of ${what} on ${response} was seen; ${missed} could have been missed.${together(effect, given)}`;
}

function changed(effect: Omit<Effect, "sentence">, factor: ObservedFactor): string {
  const verb = factor.kind === "quantity" ? "Raising" : "Changing";
  return `${verb} ${effect.factor} from ${settingNumber(effect.from)} to ${settingNumber(effect.to)}${unitOf(effect, factor)}`;
}

function unitOf(effect: Omit<Effect, "sentence">, factor: ObservedFactor): string {
  return typeof effect.to === "string" ? "" : unitText(factor.unit);
}

function moved(estimate: number, half: number, { solved }: SentenceContext): string {
  const { name, unit } = solved.observations.response;
  return `${estimate < 0 ? "lowers" : "raises"} ${name} by ${rounded(Math.abs(estimate), half)}${differenceText(unit)}`;
}

function multiplied(ratio: number, half: number, { solved }: SentenceContext): string {
  return `multiplies ${solved.observations.response.name} by ${rounded(ratio, half)}`;
}

/** The factors whose products with this one show, each by its own test. */
function depends({ solved, factor, sources }: SentenceContext): string {
  const names = new Set<string>();
  const position = new Map(solved.solution.kept.map((column, k) => [column, k]));
  for (const { term, columns } of sources) {
    if (Object.keys(term).length < 2) continue;
    const own = columns.flatMap((column) => position.get(column) ?? []);
    const test = jointTest(solved, own);
    if (test === null || test.p >= 1 - solved.confidence) continue;
    for (const name of Object.keys(term)) if (name !== factor.name) names.add(name);
  }
  return listed([...names]);
}

/** Names what moved along, so that the sentence is not read as this factor's alone. */
function together(effect: Omit<Effect, "sentence">, { estimable, context }: SentenceContext): string {
  if (estimable) return "";
  const set = context.inseparable.find(({ labels }) => labels.includes(effect.factor));
  return set === undefined
    ? ""
    : ` This may as well be due to ${listed(
        set.labels.filter((label) => label !== effect.factor),
        "or",
      )}: ${set.text}.`;
}

function standsOut(factor: string, { context }: SentenceContext): string {
  const { unreplicated, noInterval } = context;
  if (unreplicated === null) return `No interval: ${noInterval}`;
  // By the limit drawn for this number of effects, as on a published page: Student's t lets too few through.
  const active = unreplicated.exact.active.some(
    (term) => Object.keys(term).length === 1 && Object.keys(term)[0].split("=")[0] === factor,
  );
  return active
    ? "It stands out from the other effects, which are all the measure of scatter there is."
    : "It does not stand out from the other effects, which are all the measure of scatter there is.";
}
