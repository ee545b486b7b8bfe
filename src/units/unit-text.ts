import { listed } from "./listed.ts";
import { answered, asked, refused, valueOrThrow } from "./error.ts";
import type { Answer } from "./error.ts";
import { plainText } from "./typed-text.ts";
import { doubtfulAliases, doubtfulSpellings, partSpellings, unitSpellings } from "./unit-names-typed.ts";
import type { DoubtfulMeaning } from "./unit-names-typed.ts";
import { unitNames } from "./unit-table.ts";
import type { UnitName } from "./unit-table.ts";

/** Brings "mm per rev", "mm / rev", "ft-lb", "ft lb" and "N.m" to one spelling. */
function unitKey(text: string): string {
  return plainText(text)
    .replace(/µ +(?=[a-z])/gi, "µ")
    .replace(/\bper\b/gi, "/")
    .replace(/\s*\/\s*/g, "/")
    .replace(/(?<=[a-z])\s*[ .\-*·⋅•]\s*(?=[a-z])/gi, "·");
}

/** Every spelling of every unit: "mm/rev" by all spellings of mm and all of rev. */
export function spellingsOf(unit: UnitName): string[] {
  const parts = unit.split("/").map((part) => [part, ...(partSpellings[part] ?? [])]);
  const joined = parts.reduce((starts, ends) =>
    starts.flatMap((start) => ends.map((end) => `${start}/${end}`)),
  );
  return [...joined, ...(unitSpellings[unit] ?? [])];
}

const exactSpellings = new Map<string, UnitName>();
const foldedSpellings = new Map<string, UnitName | null>();
for (const unit of unitNames) {
  for (const spelling of spellingsOf(unit)) {
    const key = unitKey(spelling);
    exactSpellings.set(key, unit);
    const folded = key.toLowerCase();
    const other = foldedSpellings.get(folded);
    // nm is a nanometre and Nm a newton metre: where case decides, a text in capitals is not guessed at.
    foldedSpellings.set(folded, other === undefined || other === unit ? unit : null);
  }
}

/**
 * The unit that somebody typed, as its canonical name: `u` or either mu for µ, `"` for inch, spelled-out names, shop words
 * (rpm, ipr, ipm, sfm, thou), "per", small and capital letters where they can't be mistaken. A spelling that means
 * different things in different shops (mil, micro, tenths) is a question.
 *
 * @example readUnit("uin") // { kind: "value", value: "µin" }
 */
export function readUnit(text: string): Answer<UnitName> {
  const unit = unitSpelled(text);
  if (unit !== null) return answered(unit);
  const meanings = doubtfulUnit(text);
  if (meanings === null) return unknownUnit(text);
  return asked(
    `"${text.trim()}" means different things in different shops.`,
    meanings.map(({ unit: write, meaning, size }) => ({
      write,
      meaning: size === "1" ? meaning : `${meaning} (1 ${text.trim()} is ${size} ${write})`,
      quantity: null,
    })),
  );
}

/**
 * Like {@link readUnit}, but throws a `UnitError` where the unit is not known or doubtful.
 *
 * @example parseUnit("IPR") // "in/rev"
 */
export function parseUnit(text: string): UnitName {
  return valueOrThrow(readUnit(text));
}

/** The unit of a spelling; null where there is none. */
export function unitSpelled(text: string): UnitName | null {
  const key = unitKey(text);
  const exact = exactSpellings.get(key) ?? exactSpellings.get(key.replace(/\.$/, ""));
  if (exact !== undefined) return exact;
  const letters = key.replace(/[^a-z]/gi, "");
  const oneCase = letters === letters.toUpperCase() || letters.slice(1) === letters.slice(1).toLowerCase();
  // A single letter means too much: k is no kelvin, and M no metre.
  return letters.length > 1 && oneCase ? (foldedSpellings.get(key.toLowerCase()) ?? null) : null;
}

/** What a doubtful spelling may mean; null where the spelling is not a doubtful one. */
export function doubtfulUnit(text: string): readonly DoubtfulMeaning[] | null {
  const key = plainText(text).toLowerCase();
  return doubtfulSpellings[doubtfulAliases[key] ?? key] ?? null;
}

export function unknownUnit(text: string, expected: readonly UnitName[] = []): Answer<never> {
  const examples =
    expected.length > 0 ? expected : (["mm", "µm", "in", "µin", "mm/rev", "rev/min", "m/min"] as const);
  return refused(
    "unreadable",
    `"${text.trim()}" is not a unit known here. Write one such as ${listed(examples, "or")}.`,
  );
}
