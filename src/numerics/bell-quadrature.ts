/** Below the peak by this many natural logarithms (3e-20) the integrand is left out. */
const negligible = 45;
/** Halving the step squares the relative error, so sums that agree to this leave far less; the margin is for humps with a small sharper part. */
const agreement = 1e-11;

/**
 * Integral over the real line of a smooth function with one hump, given by its logarithm. The plain sum at even steps is used: for analytic functions that die away on
 * both sides its error falls faster than any power of the step (Trefethen and Weideman 2014, SIAM Review 56, 385–458), and as no term is
 * negative, the relative accuracy holds however small the integral is. Steps are halved until two sums agree to 1e-11,
 * which leaves the finer one right to about 1e-14.
 * `start` should lie where the function is not zero, `width` be about that of the hump.
 */
export function bellIntegral(
  logIntegrand: (x: number) => number,
  options: { readonly start: number; readonly width: number },
): number {
  const { peak, height } = climb(logIntegrand, options.start, options.width);
  if (height === -Infinity) return 0;
  const low = foot(logIntegrand, peak, -options.width / 2, height);
  const high = foot(logIntegrand, peak, options.width / 2, height);
  let step = (high - low) / 24;
  let sum = gather(logIntegrand, low, step, 24, height);
  for (let halving = 0; halving < 12; halving++) {
    const count = 24 * 2 ** halving;
    const finer = sum + gather(logIntegrand, low + step / 2, step, count - 1, height);
    const agreed = Math.abs(finer - 2 * sum) <= agreement * finer;
    sum = finer;
    step /= 2;
    if (agreed) break;
  }
  return sum * step * Math.exp(height);
}

function gather(
  logIntegrand: (x: number) => number,
  from: number,
  step: number,
  count: number,
  height: number,
): number {
  let sum = 0;
  for (let i = 0; i <= count; i++) sum += Math.exp(logIntegrand(from + i * step) - height);
  return sum;
}

/** Walks uphill with growing steps, then halves them: the peak need only be near. */
function climb(
  logIntegrand: (x: number) => number,
  start: number,
  width: number,
): { peak: number; height: number } {
  let peak = start;
  let height = logIntegrand(start);
  let step = width;
  for (let tries = 0; tries < 200 && Math.abs(step) > width / 8; tries++) {
    const ahead = logIntegrand(peak + step);
    if (ahead > height) {
      peak += step;
      height = ahead;
      step *= 1.5;
      continue;
    }
    const behind = logIntegrand(peak - step);
    if (behind > height) {
      peak -= step;
      height = behind;
      step *= -1.5;
    } else step /= 3;
  }
  return { peak, height };
}

/** The first point out from the peak at which the integrand may be left out. */
function foot(logIntegrand: (x: number) => number, peak: number, step: number, height: number): number {
  let out = step;
  for (let tries = 0; tries < 200; tries++) {
    if (!(logIntegrand(peak + out) > height - negligible)) break;
    out *= 1.3;
  }
  return peak + out;
}
