import { listed } from "./listed.ts";
import { answered, asked, refused, valueOrThrow } from "./error.ts";
import type { Answer, Choice } from "./error.ts";
import { formatQuantity } from "./format-quantity.ts";
import { readExactNumber } from "./number-text.ts";
import type { NumberTextOptions } from "./number-text.ts";
import { quantity } from "./arithmetic.ts";
import type { Quantity } from "./quantity.ts";
import { multiplied, nearestDouble, rationalFromDecimal } from "./rational.ts";
import type { Rational } from "./rational.ts";
import { plainText } from "./typed-text.ts";
import { usualUnits } from "./usual-units.ts";
import { dimensionOf } from "./unit-table.ts";
import type { Dimension, DimensionOf, UnitName } from "./unit-table.ts";
import { doubtfulUnit, unitSpelled, unknownUnit } from "./unit-text.ts";
import { probableMeanings } from "./probable-meanings.ts";

/** What is expected where the text was typed. */
export interface QuantityTextOptions<U extends UnitName, D extends Dimension> extends NumberTextOptions {
  /** The unit of a number that comes without one; a typed unit must be of the same dimension. */
  readonly unit?: U;
  /** The dimension that is expected, where a number without a unit is to be asked about. */
  readonly dimension?: D;
}

/** Longer than any quantity that is typed; guards the patterns below against pasted pages. */
const longestText = 200;

/** Two numbers where one is expected: 0.8-1.2, 0.8 ± 0.1, 0.8 to 1.2. */
const secondNumber = /^(?:-|±|\+\/-|\.\.+|to\b|\/) ?[\d.,]/;

/** Parameter and diameter signs that people put before the number. */
const preface = /^(?:(R[aqzptv]|Rmax)\s*[:=]?\s*|[øØ⌀]\s*|[:=]\s*)(?=[-+.,\d])/i;
const number = String.raw`[+-]?(?:(?:\d+[ -])?\d+ ?/ ?\d+|(?:\d+(?:[.,' ]\d+)*\.?|[.,]\d+)(?:e[+-]?\d+)?)`;
const numberThenUnit = new RegExp(`^(${number})(?![\\d.,]) ?(.*)$`, "i");

/**
 * The quantity that somebody typed, in the unit that they typed: "0.010 in/rev", ".25mm/rev", "31 uin", "1 000 rev/min",
 * "0,8 µm", "3/8 in". Numbers as by `readNumber`, units as by `readUnit`.
 *
 * Asked about, with the possible readings: "1,000 rev/min" (one or a thousand); a number without a unit where none is
 * expected; mil, micro, tenths. Refused: a unit of another dimension than the expected one, with what was probably meant.
 *
 * @example readQuantity("0.8", { unit: "µm" }) // { kind: "value", value: quantity(0.8, "µm") }
 */
export function readQuantity<U extends UnitName>(
  text: string,
  options: QuantityTextOptions<U, Dimension> & { readonly unit: U },
): Answer<Quantity<DimensionOf<U>>>;
export function readQuantity<D extends Dimension>(
  text: string,
  options: QuantityTextOptions<UnitName, D> & { readonly dimension: D },
): Answer<Quantity<D>>;
export function readQuantity(
  text: string,
  options?: QuantityTextOptions<UnitName, Dimension>,
): Answer<Quantity>;
export function readQuantity(
  text: string,
  { unit, dimension = unit && dimensionOf(unit), decimal }: QuantityTextOptions<UnitName, Dimension> = {},
): Answer<Quantity> {
  if (text.length > longestText)
    return refused("unreadable", `A text of ${text.length} characters is no quantity.`);
  const plain = plainText(text);
  const parameter = preface.exec(plain)?.[1] ?? null;
  // "1000 1/min" is how some controls write rev/min; its 1 is no part of the number.
  const body = plain.replace(preface, "").replace(/(?<=\d ?)\b1 ?\/ ?min$/i, "rev/min");
  const [, numberText = "", unitText = ""] = numberThenUnit.exec(body) ?? [];
  if (numberText === "") return noNumber(plain, dimension);

  if (secondNumber.test(unitText)) {
    return refused("unreadable", `"${plain}" holds more than one number. Write one number and its unit.`);
  }
  const value = readExactNumber(numberText, { decimal });
  if (value.kind === "question") return askedWithUnit(plain, value.choices, unitText, unit);
  if (value.kind === "refused") return value;
  if (unitText === "") {
    if (unit !== undefined) return measured(value.value, unit);
    if (dimension === "ratio") return measured(value.value, "1");
    return withoutUnit(plain, value.value, dimension ?? (parameter === null ? undefined : "roughness"));
  }
  const typed = unitSpelled(unitText);
  if (typed === null) return doubtful(plain, value.value, unitText, dimension);
  if (dimension !== undefined && dimensionOf(typed) !== dimension)
    return mismatch(plain, value.value, typed, dimension);
  return measured(value.value, typed);
}

/**
 * Like {@link readQuantity}, but throws a `UnitError` where the text can't be read or can be read in more than one way;
 * its `choices` hold the ways.
 *
 * @example parseQuantity("0.010 ipr", { unit: "mm/rev" }) // 0.01 in/rev
 */
export function parseQuantity<U extends UnitName>(
  text: string,
  options: QuantityTextOptions<U, Dimension> & { readonly unit: U },
): Quantity<DimensionOf<U>>;
export function parseQuantity<D extends Dimension>(
  text: string,
  options: QuantityTextOptions<UnitName, D> & { readonly dimension: D },
): Quantity<D>;
export function parseQuantity(text: string, options?: QuantityTextOptions<UnitName, Dimension>): Quantity;
export function parseQuantity(
  text: string,
  options: QuantityTextOptions<UnitName, Dimension> = {},
): Quantity {
  return valueOrThrow(readQuantity(text, options));
}

function measured(value: Rational, unit: UnitName): Answer<Quantity> {
  const nearest = nearestDouble(value);
  if (!Number.isFinite(nearest))
    return refused("not-computable", `The number is too large for a quantity in ${unit}.`);
  return answered(quantity(nearest, unit));
}

function noNumber(text: string, dimension: Dimension | undefined): Answer<never> {
  const [example] = usualUnits(dimension);
  const expected = `a number and a unit, such as "0.8 ${example}"`;
  return refused(
    "unreadable",
    text === ""
      ? `Nothing was given; expected ${expected}.`
      : `"${text}" is not a quantity: expected ${expected}.`,
  );
}

function askedWithUnit(
  text: string,
  choices: readonly Choice[],
  unitText: string,
  defaultUnit: UnitName | undefined,
): Answer<never> {
  const unit = unitText === "" ? defaultUnit : (unitSpelled(unitText) ?? undefined);
  return asked(
    `"${text}" can be read in two ways.`,
    choices.map(({ write, meaning, quantity: bare }) => ({
      write: unitText === "" ? write : `${write} ${unit ?? unitText}`,
      meaning,
      quantity: bare !== null && unit !== undefined ? quantity(bare.value, unit) : null,
    })),
  );
}

function withoutUnit(
  text: string,
  value: Rational,
  dimension: Dimension | "roughness" | undefined,
): Answer<never> {
  const number = nearestDouble(value);
  if (!Number.isFinite(number)) return refused("not-computable", `"${text}" is too large for a number.`);
  return asked(
    `"${text}" has no unit.`,
    usualUnits(dimension).map((unit) => offered(number, unit)),
  );
}

function offered(value: number, unit: UnitName): Choice {
  const meant = quantity(value, unit);
  return {
    write: `${value} ${unit}`,
    meaning: formatQuantity(meant, { system: "both" }),
    quantity: meant,
  };
}

function doubtful(
  text: string,
  value: Rational,
  unitText: string,
  dimension: Dimension | undefined,
): Answer<never> {
  const meanings = doubtfulUnit(unitText);
  if (meanings === null) return unknownUnit(unitText, dimension === undefined ? [] : usualUnits(dimension));
  return asked(
    `"${text}" can be read in two ways.`,
    meanings.map(({ meaning, unit, size }) => {
      const meant = quantity(nearestDouble(multiplied(value, rationalFromDecimal(size))), unit);
      return { write: `${meant.value} ${unit}`, meaning, quantity: meant };
    }),
  );
}

function mismatch(text: string, value: Rational, typed: UnitName, expected: Dimension): Answer<never> {
  const meant = probableMeanings(typed, expected).map((unit) => offered(nearestDouble(value), unit));
  const ways = listed(
    meant.map(({ write }) => `"${write}"`),
    "or",
  );
  const mend =
    ways === ""
      ? `Write a unit such as ${listed(usualUnits(expected), "or")}.`
      : `If it is ${expected}, write ${ways}.`;
  return refused(
    "mismatch",
    `"${text}" is ${withArticle(dimensionOf(typed))}; expected ${withArticle(expected)}. ${mend}`,
    meant,
  );
}

function withArticle(dimension: Dimension): string {
  return `${/^[aeiou]/.test(dimension) ? "an" : "a"} ${dimension}`;
}
