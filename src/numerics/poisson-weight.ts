/**
 * meanʲ·e^(−mean)/Γ(j + 1) for j ≥ 16, whole or not: the Poisson probability of j, and the front factor of the incomplete gamma function. By Stirling's series about
 * j, so that no large logarithms cancel; relative accuracy about 1e-15·(1 + j·gap).
 * Source: Loader 2000, Fast and Accurate Computation of Binomial Probabilities (the saddle-point form).
 */
export function poissonWeight(j: number, mean: number): number {
  return Math.exp(-j * gap((mean - j) / j) - stirlingRest(j)) / Math.sqrt(2 * Math.PI * j);
}

/** ln Γ(j + 1) less Stirling's leading terms, j ≥ 16; the first term left out is below 1e-15 there. */
export function stirlingRest(j: number): number {
  const square = 1 / (j * j);
  return (1 / 12 - square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square / 1188)))) / j;
}

/** d − ln(1 + d) for d > −1, without cancellation: ln(1 + d) = 2·artanh(d/(2 + d)), whose leading term is taken off exactly. */
function gap(d: number): number {
  if (Math.abs(d) > 0.4) return d - Math.log1p(d);
  const ratio = d / (2 + d);
  const square = ratio * ratio;
  let power = ratio;
  let sum = 0;
  for (let k = 3; k < 40; k += 2) {
    power *= square;
    const term = power / k;
    sum += term;
    if (Math.abs(term) <= 1e-17 * Math.abs(sum)) break;
  }
  return d * ratio - 2 * sum;
}
