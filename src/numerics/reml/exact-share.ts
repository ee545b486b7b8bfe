import { brentRoot } from "../brent-root.ts";
import { fQuantile, fUpperQuantile } from "../f-ratio.ts";
import { evaluate } from "./evaluate.ts";
import { restOf } from "./criterion.ts";
import type { ReducedSystem } from "./reduced-system.ts";
import { withinScatter } from "./within-scatter.ts";

/** A ratio beyond which a share is 1 to nine digits. */
const largestRatio = 1e9;

/**
 * The exact interval of the only source's share of the variance: all ratios θ at which F(θ) = ((S(θ) − S_within)/r) / (S_within/f) is no rarer than the
 * confidence says. S(θ) is the sum of squares left by generalised least squares; at the true ratio F has r and f degrees of freedom whatever the sizes of the
 * groups. Null where there is no scatter within, or where even θ = 0 is ruled out from above, so that the set is empty.
 * Source: Wald 1940, Annals of Mathematical Statistics 11, 96–100; Seely and El-Bassiouni 1983, Annals of Statistics 11, 197–201.
 */
export function exactShare(
  system: ReducedSystem,
  confidence: number,
): { readonly low: number; readonly high: number } | null {
  const within = withinScatter(system);
  const between = system.rows - system.rank - within.df;
  if (within.df === 0 || between <= 0 || within.sumOfSquares === 0) return null;
  const fAt = (ratio: number): number => {
    const rest = restOf(system, evaluate(system, Float64Array.of(ratio)));
    return (rest - within.sumOfSquares) / between / (within.sumOfSquares / within.df);
  };
  const tail = (1 - confidence) / 2;
  const most = fUpperQuantile(tail, between, within.df);
  const least = fQuantile(tail, between, within.df);
  const alone = fAt(0);
  if (alone <= least) return null;
  // On the scale of log(1 + ratio), on which both small and large ratios keep their digits.
  const ratioAt = (limit: number): number => {
    const excess = (t: number): number => Math.log(Math.max(fAt(Math.expm1(t)), 1e-300) / limit);
    let above = 1;
    while (above < Math.log(largestRatio) && excess(above) > 0) above *= 1.5;
    if (above >= Math.log(largestRatio)) return Infinity;
    return Math.expm1(brentRoot(excess, 0, above, { tolerance: 1e-12 }));
  };
  const share = (ratio: number): number => (ratio === Infinity ? 1 : ratio / (1 + ratio));
  return { low: alone <= most ? 0 : share(ratioAt(most)), high: share(ratioAt(least)) };
}
