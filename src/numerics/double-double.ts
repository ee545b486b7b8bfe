/**
 * A number held as the unevaluated sum of two doubles, about 32 significant digits. `high` is the sum rounded to a double.
 * Source of all algorithms here: Dekker 1971, Numerische Mathematik 18, 224–242; Knuth, The Art of Computer Programming 2, 4.2.2;
 * error bounds by Joldes, Muller and Popescu 2017, ACM Transactions on Mathematical Software 44, 15.
 */
export interface DoubleDouble {
  readonly high: number;
  readonly low: number;
}

/** 2²⁷ + 1, cuts a double's 53 bits into 26 and 26 (Veltkamp). It overflows above 2⁹⁹⁶, so callers scale first. */
export const splitter = 134217729;

/** a + b and exactly what rounding lost. */
export function twoSum(a: number, b: number): DoubleDouble {
  const high = a + b;
  const part = high - a;
  return { high, low: a - (high - part) + (b - part) };
}

/** a + b and exactly what rounding lost, for |a| ≥ |b|. */
export function fastTwoSum(a: number, b: number): DoubleDouble {
  const high = a + b;
  return { high, low: b - (high - a) };
}

/** a × b and exactly what rounding lost, for |a|, |b| < 2⁹⁹⁶ and a product that is not subnormal. */
export function twoProduct(a: number, b: number): DoubleDouble {
  const high = a * b;
  const at = a * splitter;
  const aHigh = at - (at - a);
  const aLow = a - aHigh;
  const bt = b * splitter;
  const bHigh = bt - (bt - b);
  const bLow = b - bHigh;
  return { high, low: aHigh * bHigh - high + aHigh * bLow + aLow * bHigh + aLow * bLow };
}

/** Sum of two double-doubles; relative error below 3·2⁻¹⁰⁶. */
export function addExactly(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const s = twoSum(a.high, b.high);
  const t = twoSum(a.low, b.low);
  const v = fastTwoSum(s.high, s.low + t.high);
  return fastTwoSum(v.high, v.low + t.low);
}

/** Product of two double-doubles; relative error below 7·2⁻¹⁰⁶. */
export function multiplyExactly(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const p = twoProduct(a.high, b.high);
  return fastTwoSum(p.high, p.low + (a.high * b.low + a.low * b.high));
}

/** Quotient of two double-doubles; relative error below 15·2⁻¹⁰⁶. */
export function divideExactly(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const first = a.high / b.high;
  const rest = addExactly(a, negate(multiplyExactly(b, { high: first, low: 0 })));
  const second = rest.high / b.high;
  const last = addExactly(rest, negate(multiplyExactly(b, { high: second, low: 0 })));
  const sum = fastTwoSum(first, second);
  return fastTwoSum(sum.high, sum.low + last.high / b.high);
}

/** Square root of a double to double-double; 0 for 0. The caller sees to it that the value is not negative. */
export function squareRootExactly(value: number): DoubleDouble {
  if (value === 0) return { high: 0, low: 0 };
  const root = Math.sqrt(value);
  const square = twoProduct(root, root);
  return fastTwoSum(root, (value - square.high - square.low) / (2 * root));
}

export function negate(a: DoubleDouble): DoubleDouble {
  return { high: -a.high, low: -a.low };
}
