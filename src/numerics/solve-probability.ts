/** A distribution on (0, ∞) and the point wanted: `lower` + `upper` = 1, the smaller of them exact. */
export interface ProbabilityQuestion {
  readonly lower: number;
  readonly upper: number;
  readonly lowerOf: (x: number) => number;
  readonly upperOf: (x: number) => number;
  /** Only steers the steps: a few right digits are enough. */
  readonly densityOf: (x: number) => number;
  readonly start: number;
}

/** Factor by which one step may move x where nothing is known beyond it. */
const farthest = Math.exp(50);

/**
 * The x at which the smaller of both probabilities is met, by Newton's steps on the logarithms of probability and x, held in a bracket. On that scale power tails are
 * straight and exponential ones bend gently, so that a tail of 1e-300 takes no more care than one of 0.05. Relative accuracy: that of the probability
 * function divided by x·density/probability.
 */
export function solveProbability(question: ProbabilityQuestion): number {
  const { lower, upper, densityOf } = question;
  const sign = upper <= lower ? -1 : 1;
  const wanted = sign < 0 ? upper : lower;
  const probabilityOf = sign < 0 ? question.upperOf : question.lowerOf;
  if (lower === 0) return 0;
  let low = 0;
  let high = Infinity;
  let x = question.start;
  for (let step = 0; step < 400; step++) {
    const probability = probabilityOf(x);
    const miss = Math.log(probability / wanted);
    if (miss === 0) return x;
    if (miss * sign > 0) high = x;
    else low = x;
    const slope = (sign * x * densityOf(x)) / probability;
    const change = -miss / slope;
    const next = x * Math.exp(change);
    // Beyond the bracket, or no slope to go by: halve the bracket on the log scale, or reach out where it is open.
    if (!(next > low && next < high && next < x * farthest && next > x / farthest)) {
      if (high === Infinity) x = Math.min(x * farthest, Number.MAX_VALUE);
      else if (low === 0) x /= farthest;
      else x = Math.sqrt(low) * Math.sqrt(high);
      if (x === low || x === high || x === 0) return x;
      continue;
    }
    x = next;
    // The next step would move x by about the square of this one.
    if (Math.abs(change) < 1e-9) return x;
  }
  return x;
}
