import gammainc from "@stdlib/math-base-special-gammainc";
import { poissonWeight } from "./poisson-weight.ts";

/** From here on @stdlib's function is left: version 0.3.1 was seen to keep 2 digits only for shapes near 1000 and more, and 13 below 100. */
const largeShape = 100;

/** Regularised lower incomplete gamma function P(shape, x), x > 0. Relative accuracy about 1e-14. */
export function lowerGamma(shape: number, x: number): number {
  if (shape < largeShape) return gammainc(x, shape, true, false);
  return x < shape + 1 ? lowerSeries(shape, x) : 1 - upperFraction(shape, x);
}

/** Regularised upper incomplete gamma function Q(shape, x), x > 0, computed directly where it is small. */
export function upperGamma(shape: number, x: number): number {
  if (shape < largeShape) return gammainc(x, shape, true, true);
  return x < shape + 1 ? 1 - lowerSeries(shape, x) : upperFraction(shape, x);
}

/** x^a·e^(−x)/Γ(a + 1)·(1 + x/(a + 1) + x²/((a + 1)(a + 2)) + …): about 6·√a terms near x = a, all positive. Abramowitz and Stegun 6.5.29. */
function lowerSeries(shape: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= x / (shape + k);
    sum += term;
  }
  return Math.min(1, poissonWeight(shape, x) * sum);
}

/** Legendre's continued fraction by the modified Lentz method. Abramowitz and Stegun 6.5.31. */
function upperFraction(shape: number, x: number): number {
  if (x === Infinity) return 0;
  let b = x + 1 - shape;
  let c = 1e300;
  let d = 1 / b;
  let fraction = d;
  for (let k = 1; k < 1e7; k++) {
    const a = -k * (k - shape);
    b += 2;
    d = 1 / (b + a * d);
    c = b + a / c;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return poissonWeight(shape, x) * shape * fraction;
}
