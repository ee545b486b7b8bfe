import { answered, asked, refused, valueOrThrow } from "./error.ts";
import type { Answer, Choice } from "./error.ts";
import { quantity } from "./arithmetic.ts";
import { added, divided, nearestDouble, rationalFromDecimal } from "./rational.ts";
import type { Rational } from "./rational.ts";
import { plainText } from "./typed-text.ts";

export interface NumberTextOptions {
  /**
   * Which sign the writer is known to use before the decimals, such as `comma` in a file whose columns are parted by
   * semicolons. Default: not known, so that "1,000" is asked about.
   */
  readonly decimal?: "point" | "comma";
}

const plain = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
const spaced = /^[+-]?\d{1,3}(?:[ '_]\d{3})+(?=$|[.,]\d|e)/;
const mixedFraction = /^([+-]?)(?:(\d+)[ -])?(\d+) ?\/ ?(\d+)$/;

/**
 * The number that somebody typed. Understood: decimal point or comma (0.8, 0,8, .25, 5.), thousands parted by spaces of
 * any kind, by ' or by the other sign (1 000, 1'000, 1,000.5, 1.000,5, 1,000,000), powers of ten (1e-3, 1.2×10⁻³),
 * fractions (3/8, 1 1/2, ¾), the minus sign. One point is always a decimal point (1.250 is one and a quarter) unless
 * `decimal` says otherwise. "1,000" with three digits behind one comma is one or a thousand: a question.
 *
 * @example readNumber("0,8") // { kind: "value", value: 0.8 }
 */
export function readNumber(text: string, options: NumberTextOptions = {}): Answer<number> {
  const answer =
    text.length > 400 ? notANumber(`${text.slice(0, 40)}…`) : readExactNumber(plainText(text), options);
  if (answer.kind !== "value") return answer;
  const value = nearestDouble(answer.value);
  return Number.isFinite(value)
    ? answered(value)
    : refused("not-computable", `"${text}" is too large for a number.`);
}

/**
 * Like {@link readNumber}, but throws a `UnitError` where the text is no number or can be read in two ways.
 *
 * @example parseNumber("1 000,5") // 1000.5
 */
export function parseNumber(text: string, options: NumberTextOptions = {}): number {
  return valueOrThrow(readNumber(text, options));
}

/** Exact; the text is already in plain spelling. */
export function readExactNumber(text: string, { decimal }: NumberTextOptions = {}): Answer<Rational> {
  const fraction = mixedFraction.exec(text);
  if (fraction !== null) return readFraction(text, fraction);
  const ungrouped = spaced.test(text) ? text.replace(/[ '_]/g, "") : text;
  const [mantissa = "", ...exponent] = ungrouped.split(/(?=e)/i);
  const points = mantissa.split(".").length - 1;
  const commas = mantissa.split(",").length - 1;
  const tail = exponent.join("");
  const asPoint = mantissa.replace(/,/g, "") + tail;
  const asComma = mantissa.replace(/\./g, "").replace(",", ".") + tail;

  if (points > 0 && commas > 0) {
    const pointLast = mantissa.lastIndexOf(".") > mantissa.lastIndexOf(",");
    if (pointLast && grouped(mantissa.slice(0, mantissa.indexOf(".")), ",") && points === 1)
      return exact(text, asPoint);
    if (!pointLast && grouped(mantissa.slice(0, mantissa.indexOf(",")), ".") && commas === 1)
      return exact(text, asComma);
    return notANumber(text);
  }
  if (commas > 1) return grouped(mantissa, ",") ? exact(text, asPoint) : notANumber(text);
  if (points > 1) return grouped(mantissa, ".") ? exact(text, asComma) : notANumber(text);
  const sign = commas === 1 ? "," : ".";
  const couldGroup = ungrouped === text && grouped(mantissa, sign);
  if (commas === 1 && couldGroup) {
    if (decimal === "point") return exact(text, asPoint);
    return decimal === "comma" ? exact(text, asComma) : oneOrThousand(text, mantissa, ",");
  }
  if (points === 1 && couldGroup && decimal === "comma") return oneOrThousand(text, mantissa, ".");
  return exact(text, mantissa.replace(",", ".") + tail);
}

function readFraction(
  text: string,
  [, sign = "", whole = "0", top = "0", bottom = "0"]: RegExpExecArray,
): Answer<Rational> {
  if (/^0+$/.test(bottom)) return refused("unreadable", `"${text}" divides by zero.`);
  const size = added(
    rationalFromDecimal(whole),
    divided(rationalFromDecimal(top), rationalFromDecimal(bottom)),
  );
  return answered(sign === "-" ? { numerator: -size.numerator, denominator: size.denominator } : size);
}

/** Whether digits stand in threes behind each separator: 1,000 or 12.345.678, but not 0,800 nor 1,00. */
function grouped(digits: string, separator: "," | "."): boolean {
  const [first = "", ...groups] = digits.replace(/^[+-]/, "").split(separator);
  return groups.length > 0 && /^[1-9]\d{0,2}$/.test(first) && groups.every((group) => /^\d{3}$/.test(group));
}

function exact(text: string, decimal: string): Answer<Rational> {
  if (!plain.test(decimal)) return notANumber(text);
  const exponent = Math.abs(Number(/e(.*)$/i.exec(decimal)?.[1] ?? 0));
  // Past this the powers of ten would only cost time and memory: no double is so large or so small.
  if (exponent > 400 || decimal.length > 400)
    return refused("not-computable", `"${text}" is too long for a number.`);
  return answered(rationalFromDecimal(decimal));
}

function oneOrThousand(text: string, mantissa: string, separator: "," | "."): Answer<never> {
  const tail = text.slice(mantissa.length);
  const thousands = mantissa.replace(separator, "") + tail;
  const decimals = mantissa.replace(separator, ".") + tail;
  const one = String(Number(decimals));
  return asked(`"${text}" can be read in two ways.`, [
    choice(thousands, `${Number(thousands)} (the ${sign(separator)} parts the thousands)`, Number(thousands)),
    // Where a point was typed and the file is known to use commas, the comma is the sign that can't be mistaken.
    choice(
      separator === "," ? one : one.replace(".", ","),
      `${one} (the ${sign(separator)} stands before the decimals)`,
      Number(decimals),
    ),
  ]);
}

function choice(write: string, meaning: string, value: number): Choice {
  return { write, meaning, quantity: quantity(value, "1") };
}

function sign(separator: "," | "."): string {
  return separator === "," ? "comma" : "point";
}

function notANumber(text: string): Answer<never> {
  return refused(
    "unreadable",
    text === ""
      ? 'No number was given. Write one such as "0.8" or "0,8".'
      : `"${text}" is not a number. Write one such as "0.8", "0,8", "1 000" or "3/8".`,
  );
}
