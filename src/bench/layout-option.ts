import { listed, parseNumber, parseQuantity, valueIn, type Dimension } from "../units/index.ts";
import { readConstraint } from "./constraint-line.ts";
import { isEffectSet, named, readEffects } from "./effect-list.ts";
import { splitNames, splitNumbers } from "./typed-list.ts";
import { settingsOf, type TypedOption } from "./typed-settings.ts";

type Reader = (typed: TypedOption) => unknown;

/** Options that are more than a number or a word; whatever is not here is read as numbers, or else as the word it is. */
const readers: Readonly<Record<string, Reader>> = {
  generators: ({ text }) => splitNames(text),
  interactions: pairs,
  hold: settingsOf,
  keep: (typed) => linesOf(typed.text).map((text) => settingsOf({ ...typed, text })),
  constraints: (typed) => linesOf(typed.text).map((text) => readConstraint({ ...typed, text })),
  terms: effects,
  lesserTerms: effects,
  // An order protects stated effects only: a set is written out.
  protect: (typed) =>
    isEffectSet(typed.text.trim()) ? named(setIn(typed.text), typed.factors) : effects(typed),
  "borders.edge": lasting,
  "borders.shift": lasting,
  "borders.part": lasting,
  "warmUp.analysed": ({ text }) => text.trim() === "yes",
  "changes.weights": weights,
  largeChanges: (typed) => linesOf(typed.text).map((text) => largeChange({ ...typed, text })),
};

/** The value that an option of a layout has in trial.json; nothing, and a problem at its field, where it can't be read. */
export function optionJson(name: string, typed: TypedOption): unknown {
  const reader = readers[name];
  if (reader !== undefined) return reader(typed);
  const { text } = typed;
  const numbers = splitNumbers(text).map((part) => {
    try {
      return parseNumber(part);
    } catch {
      return undefined;
    }
  });
  if (numbers.length === 0 || numbers.includes(undefined)) return text.trim();
  return numbers.length === 1 ? numbers[0] : numbers;
}

/** Options that the form asks for in parts, such as "borders.edge", put together. */
export function nested(
  options: readonly (readonly [name: string, value: unknown])[],
): Record<string, unknown> {
  const whole: Record<string, unknown> = {};
  for (const [name, value] of options) {
    if (value === undefined) continue;
    const [outer = "", inner] = name.split(".");
    const before = whole[outer];
    whole[outer] =
      inner === undefined
        ? value
        : { ...(typeof before === "object" && before !== null ? before : {}), [inner]: value };
  }
  return whole;
}

export function linesOf(text: string): readonly string[] {
  return text
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "");
}

function setIn(text: string): "main" | "interactions" | "surface" {
  const set = text.trim();
  return isEffectSet(set) ? set : "main";
}

function effects({ slips, field, text, factors }: TypedOption): unknown {
  if (isEffectSet(text.trim())) return text.trim();
  const { terms, refusals } = readEffects(
    text,
    factors.map(({ name }) => name),
  );
  for (const refusal of refusals) slips.wrong(field, refusal);
  return terms;
}

function pairs({ slips, field, text, factors }: TypedOption): unknown {
  const { terms, refusals } = readEffects(
    text,
    factors.map(({ name }) => name),
  );
  for (const refusal of refusals) slips.wrong(field, refusal);
  return terms.flatMap((term) => {
    const names = Object.keys(term);
    if (names.length === 2) return [names];
    slips.wrong(field, `"${names.join(" × ")}": expected a pair of factors, such as feed × speed.`);
    return [];
  });
}

/** "8 passes", "12 min", "8 passes, 12 min". */
function lasting({ slips, field, text }: TypedOption): unknown {
  const lasts: { passes?: number; minutes?: number } = {};
  for (const part of splitNames(text)) {
    const [, amount, unit = ""] =
      /^([\d.,]+)\s*(passes|pass|runs|minutes|minute|min|h|hours?)?$/i.exec(part) ?? [];
    const count = amount === undefined ? undefined : slips.try(field, () => parseNumber(amount));
    if (amount === undefined)
      slips.wrong(field, `"${part}": expected passes or minutes, such as 8 passes or 12 min.`);
    if (count === undefined) continue;
    if (/^(min|h)/i.test(unit)) lasts.minutes = /^h/i.test(unit) ? count * 60 : count;
    else lasts.passes = count;
  }
  return lasts;
}

/** "edge = 10, coolant = 3". */
function weights({ slips, field, text }: TypedOption): unknown {
  const found: Record<string, number> = {};
  for (const part of splitNames(text)) {
    const [, name, amount = ""] = /^(.+?)\s*[=:]\s*([\d.,]+)$/.exec(part) ?? [];
    if (name === undefined) {
      slips.wrong(field, `"${part}": expected a factor and what one change of it costs, such as edge = 10.`);
      continue;
    }
    const value = slips.try(field, () => parseNumber(amount));
    if (value !== undefined) found[name.trim()] = value;
  }
  return found;
}

/** "speed at most 3 changes by 200 rev/min", "speed at most 3 changes by ratio 1.5". */
function largeChange({ slips, field, text, factors }: TypedOption): unknown {
  const [, name = "", most = "", ratio, size = ""] =
    /^(.+?),?\s+at most\s+(\d+)(?:\s+changes?)?\s+(?:by|of)\s+(ratio\s+)?(.+)$/i.exec(text) ?? [];
  const factor = factors.find((each) => each.name === name.trim());
  if (factor?.kind !== "quantity") {
    const quantities = listed(factors.filter((each) => each.kind === "quantity").map((each) => each.name));
    return slips.wrong(
      field,
      `"${text}": expected such as "speed at most 3 changes by 200", of a factor that is a quantity (${quantities}).`,
    );
  }
  const { unit } = factor;
  const step = slips.try(field, () =>
    ratio === undefined ? valueIn<Dimension>(parseQuantity(size, { unit }), unit) : parseNumber(size),
  );
  return { factor: factor.name, most: Number(most), ...(ratio === undefined ? { step } : { ratio: step }) };
}
