/** ψ and ψ′ at half a whole number of degrees of freedom: what the logarithm of a sample variance tends to and varies by. */
export interface LogVarianceMoments {
  /** E ln s² − ln σ². Below zero: a small sample shows too little scatter on logarithms. */
  readonly bias: number;
  /** Var ln s². */
  readonly variance: number;
}

/**
 * Moments of the logarithm of a sample variance with normal scatter: bias ψ(ν/2) − ln(ν/2), variance ψ′(ν/2), by recursion and asymptotic series to 1e-14.
 * Source: Bartlett and Kendall 1946, Journal of the Royal Statistical Society Supplement 8, 128–138; Abramowitz and Stegun 6.3.18, 6.4.12.
 * Example: 2 degrees of freedom: bias −γ = −0.577216, variance π²/6 = 1.644934.
 */
export function logVarianceMoments(df: number): LogVarianceMoments {
  let x = df / 2;
  let [digamma, trigamma] = [0, 0];
  for (; x < 22; x++) {
    digamma -= 1 / x;
    trigamma += 1 / (x * x);
  }
  const u = 1 / (x * x);
  digamma += Math.log(x) - 1 / (2 * x) - u * (1 / 12 - u * (1 / 120 - u * (1 / 252 - u / 240)));
  trigamma += 1 / x + u / 2 + (u / x) * (1 / 6 - u * (1 / 30 - u * (1 / 42 - u / 30)));
  return { bias: digamma - Math.log(df / 2), variance: trigamma };
}
