export interface NumberFormatOptions {
  /** Standard uncertainty or half-width in the unit of the value: the value is rounded to its second significant digit. */
  readonly uncertainty?: number;
  /** Significant digits, zeros at the end kept. Used where no uncertainty is given. */
  readonly digits?: number;
}

/** What is shown in the place of a number that could not be computed. */
const noNumber = "—";
const narrowSpace = "\u202f";
const minus = "\u2212";

/**
 * A number for people to read. With `uncertainty` (finite, above zero) it is rounded to two significant digits of the
 * uncertainty; with `digits` to so many significant digits; else a number of at most six digits is shown as it was given,
 * and a longer one, which was computed, to four (whole numbers keep all their digits). Five digits and more before the
 * decimal point stand in groups of three, parted by a narrow no-break space; very small and very large numbers are shown
 * with a power of ten. A value that is not a number is shown as a dash, never as NaN; infinity as ∞. `parseNumber` reads
 * all of them back but the last two. The minus sign is U+2212.
 *
 * @example formatNumber(0.81234, { uncertainty: 0.0237 }) // "0.812"
 */
export function formatNumber(value: number, { uncertainty, digits }: NumberFormatOptions = {}): string {
  if (Number.isNaN(value)) return noNumber;
  if (!Number.isFinite(value)) return value < 0 ? `${minus}∞` : "∞";
  if (uncertainty !== undefined && Number.isFinite(uncertainty) && uncertainty > 0) {
    const decimals = 1 - powerOfTen(uncertainty, 2);
    const size = Math.max(Math.abs(value), uncertainty);
    return shown(value, Math.min(decimals, 14 - powerOfTen(size, 15)), size);
  }
  if (value === 0)
    return digits === undefined ? "0" : (0).toFixed(Math.min(Math.max(whole(digits) - 1, 0), 14));
  if (digits !== undefined)
    return shown(value, whole(digits) - 1 - powerOfTen(value, whole(digits)), Math.abs(value));
  const given = significantDigits(value);
  if (given <= 6) return shown(value, given - 1 - powerOfTen(value, 15), Math.abs(value));
  return withoutEndingZeros(shown(value, decimalsByDefault(value), Math.abs(value)));
}

function whole(digits: number): number {
  return Number.isFinite(digits) ? Math.min(Math.max(Math.round(digits), 1), 15) : 4;
}

function decimalsByDefault(value: number): number {
  const decimals = 3 - powerOfTen(value, 4);
  return isPlain(Math.abs(value)) ? Math.max(decimals, 0) : decimals;
}

function isPlain(size: number): boolean {
  return size === 0 || (size >= 1e-5 && size < 1e9);
}

/** The power of ten of the first digit, after rounding to so many digits: 9.996 to three digits is 10.0. */
function powerOfTen(value: number, digits: number): number {
  return Number(value.toExponential(digits - 1).split("e")[1]);
}

function significantDigits(value: number): number {
  return value.toExponential().split("e")[0]?.replace(/[-.]/g, "").length ?? 1;
}

/** `size` decides whether a power of ten is needed: the value's own, or that of a larger uncertainty. */
function shown(value: number, decimals: number, size: number): string {
  if (isPlain(size)) return grouped(signed(fixed(value, decimals)));
  const power =
    value === 0
      ? powerOfTen(size, 2)
      : powerOfTen(value, Math.min(Math.max(decimals + powerOfTen(value, 15) + 1, 1), 15));
  if (decimals + power < 0) return "0";
  const [mantissa = "0", exponent = "0"] = value.toExponential(Math.min(decimals + power, 20)).split("e");
  return `${signed(mantissa)}×10${raised(Number(exponent))}`;
}

function fixed(value: number, decimals: number): string {
  if (decimals >= 0) return value.toFixed(Math.min(decimals, 20));
  const step = 10 ** -decimals;
  // Away from zero on either side, as toFixed rounds.
  return (Math.sign(value) * Math.round(Math.abs(value) / step) * step).toFixed(0);
}

function signed(text: string): string {
  if (!text.startsWith("-")) return text;
  return /[1-9]/.test(text) ? minus + text.slice(1) : text.slice(1);
}

function grouped(text: string): string {
  const [whole = "", fraction] = text.split(".");
  const digits = whole.replace(minus, "");
  const spaced = digits.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, narrowSpace);
  return fraction === undefined ? spaced : `${spaced}.${fraction}`;
}

function withoutEndingZeros(text: string): string {
  return text.replace(/(\.\d*?)0+(?=×|$)/, "$1").replace(/\.(?=×|$)/, "");
}

function raised(power: number): string {
  return [...String(power)].map((sign) => (sign === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(sign)])).join("");
}
