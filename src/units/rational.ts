/** An exact number: `numerator / denominator`, the denominator above zero. */
export interface Rational {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

export const zero: Rational = { numerator: 0n, denominator: 1n };

export function rational(numerator: bigint, denominator: bigint): Rational {
  const divisor = greatestCommonDivisor(numerator, denominator);
  return { numerator: numerator / divisor, denominator: denominator / divisor };
}

export function multiplied(a: Rational, b: Rational): Rational {
  return rational(a.numerator * b.numerator, a.denominator * b.denominator);
}

/** `b` is not zero. */
export function divided(a: Rational, b: Rational): Rational {
  const sign = b.numerator < 0n ? -1n : 1n;
  return rational(sign * a.numerator * b.denominator, sign * a.denominator * b.numerator);
}

export function added(a: Rational, b: Rational): Rational {
  return rational(a.numerator * b.denominator + b.numerator * a.denominator, a.denominator * b.denominator);
}

export function subtracted(a: Rational, b: Rational): Rational {
  return added(a, { numerator: -b.numerator, denominator: b.denominator });
}

/** "12.5", "-0.8e-3" and the like, exactly. The text has been checked before. */
export function rationalFromDecimal(text: string): Rational {
  const [mantissa = "0", exponent = "0"] = text.toLowerCase().split("e");
  const [whole = "", fraction = ""] = mantissa.split(".");
  const digits = BigInt(`${whole}${fraction}`.replace(/^\+/, ""));
  const power = Number(exponent) - fraction.length;
  return power >= 0
    ? { numerator: digits * 10n ** BigInt(power), denominator: 1n }
    : rational(digits, 10n ** BigInt(-power));
}

/**
 * The exact value that a double stands for. A double whose shortest form has at most 15 digits stands for this
 * decimal, because no other decimal of so few digits shares the double: 0.7 is seven tenths, as somebody typed it, and
 * 0.7 in is 17.78 mm. Any other double comes from a computation and stands for its exact binary value.
 */
export function rationalFromDouble(value: number): Rational {
  const text = String(value);
  const digits = text.replace(/e.*$/, "").replace(/[-.]/g, "").replace(/^0+/, "");
  return digits.length <= 15 ? rationalFromDecimal(text) : binaryValue(value);
}

/** The double nearest to an exact number, ties to even: IEEE 754 rounding, subnormals and overflow included. */
export function nearestDouble({ numerator, denominator }: Rational): number {
  if (numerator === 0n) return 0;
  const negative = numerator < 0n;
  const size = negative ? -numerator : numerator;
  // The quotient is scaled to 53 bits, or to what a subnormal keeps; the last multiplication by a power of two is exact.
  let shift = bitLength(size) - bitLength(denominator) - 53;
  if (quotientBits(size, denominator, shift) > 53) shift += 1;
  if (shift < -1074) shift = -1074;
  const [top, bottom] =
    shift >= 0 ? [size, denominator << BigInt(shift)] : [size << BigInt(-shift), denominator];
  const quotient = top / bottom;
  const twiceRemainder = (top % bottom) * 2n;
  const up = twiceRemainder > bottom || (twiceRemainder === bottom && (quotient & 1n) === 1n);
  const magnitude = scaledByPowerOfTwo(Number(up ? quotient + 1n : quotient), shift);
  return negative ? -magnitude : magnitude;
}

function binaryValue(value: number): Rational {
  let power = 0;
  let whole = value;
  // Halving and doubling by powers of two are exact; 2⁵³ at most is needed above the units place of a normal double.
  while (!Number.isInteger(whole)) {
    whole *= 2;
    power += 1;
  }
  return rational(BigInt(whole), 1n << BigInt(power));
}

function quotientBits(size: bigint, denominator: bigint, shift: number): number {
  return bitLength(
    shift >= 0 ? size / (denominator << BigInt(shift)) : (size << BigInt(-shift)) / denominator,
  );
}

function scaledByPowerOfTwo(value: number, power: number): number {
  // In two steps, since 2^power itself may be out of range while the product is not.
  const half = Math.trunc(power / 2);
  return value * 2 ** half * 2 ** (power - half);
}

function bitLength(value: bigint): number {
  return value === 0n ? 0 : value.toString(2).length;
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  let [x, y] = [a < 0n ? -a : a, b];
  while (y !== 0n) [x, y] = [y, x % y];
  return x === 0n ? 1n : x;
}
