import { numericsError } from "./error.ts";
import { normalDensity, normalTail } from "./normal.ts";
import { outwardSum } from "./outward-sum.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { overScale, simultaneousQuantile } from "./simultaneous.ts";
import { tUpperQuantile } from "./student.ts";

/** Several groups, each compared with one control. */
export interface ManyToOne {
  /** How many runs stand behind the control, and behind each other group; fractions where variances were pooled. */
  readonly controlSize: number;
  readonly sizes: readonly number[];
  /** "both": any difference counts; "one": only differences in the direction looked for. */
  readonly sides: "both" | "one";
}

/**
 * P(some comparison passes t by chance): the simultaneous p-value of groups compared with one control, where t is the largest difference over its own standard error
 * (its absolute value for "both") and the common standard deviation has `df` degrees of freedom. Equal and unequal sizes.
 *
 * The comparisons share the control, so tᵢ and tⱼ correlate by λᵢλⱼ with λᵢ² = nᵢ/(nᵢ + control). Given the control's own deviation they are independent, which leaves
 * two nested integrals of positive terms. Relative accuracy 1e-10 down to 1e-300; 1 to 100 groups, df from 1.
 * Source: Dunnett 1955, Journal of the American Statistical Association 50, 1096–1121; 1964, Biometrics 20, 482–491.
 * Example: three groups and a control of 6 each, 20 df: `manyToOneTail(2.54, { controlSize: 6, sizes: [6, 6, 6], sides: "both" }, 20)` is 0.05.
 */
export function manyToOneTail(t: number, comparison: ManyToOne, df: number): number {
  requireComparison(comparison, df);
  requireNumber("t", t);
  if (t === Infinity) return 0;
  if (comparison.sides === "both" && t <= 0) return 1;
  const tailOf = normalTailOf(comparison);
  return t === 0 ? tailOf(0) : t > 0 ? overScale(t, df, tailOf) : overScale(-t, df, (x) => tailOf(-x));
}

/** The t that some comparison passes by chance with probability `tail`: half-width of simultaneous intervals in standard errors. Relative accuracy 1e-9. */
export function manyToOneUpperQuantile(tail: number, comparison: ManyToOne, df: number): number {
  requireComparison(comparison, df);
  requireProbability("tail", tail);
  // At least as far out as one comparison by itself, at most as far as all with their tails added up (Bonferroni).
  const share = comparison.sides === "both" ? tail / 2 : tail;
  const low = tUpperQuantile(share, df);
  const high = tUpperQuantile(share / comparison.sizes.length, df);
  return simultaneousQuantile(tail, low, high, (t) => manyToOneTail(t, comparison, df));
}

function requireComparison({ controlSize, sizes }: ManyToOne, df: number): void {
  if (sizes.length < 1 || sizes.length > 100)
    throw numericsError(`${sizes.length} groups beside the control`, "1 to 100");
  for (const size of [controlSize, ...sizes])
    if (!(size > 0 && size < Infinity)) throw numericsError(`a group of size ${size}`, "a number above 0");
  requirePositive("df", df);
  if (df < 1) throw numericsError(`${df} degrees of freedom`, "1 or more");
}

/** P(some comparison passes x) with the standard deviation known. */
function normalTailOf({ controlSize, sizes, sides }: ManyToOne): (x: number) => number {
  // Groups of one size share their conditional tail.
  const counts = new Map<number, number>();
  for (const size of sizes) counts.set(size, (counts.get(size) ?? 0) + 1);
  const kinds = [...counts].map(([size, count]) => ({
    shared: Math.sqrt(size / (size + controlSize)),
    own: Math.sqrt(controlSize / (size + controlSize)),
    count,
  }));
  const most = Math.max(...kinds.map(({ shared }) => shared));
  const step = (0.5 * Math.min(...kinds.map(({ own }) => own))) / Math.sqrt(1 + Math.log(sizes.length));
  return (x) => {
    const anyPasses = (z: number): number => {
      let logNone = 0;
      for (const { shared, own, count } of kinds) {
        const above = normalTail((x - shared * z) / own);
        const passes = sides === "one" ? above : above + normalTail((x + shared * z) / own);
        logNone += count * Math.log1p(-Math.min(1, passes));
      }
      return -normalDensity(z) * Math.expm1(logNone);
    };
    if (sides === "one") return outwardSum(anyPasses, Math.max(0, most * x), step);
    // Both halves of z are alike and each has its hump: one half is summed, on steps that meet 0.
    const half = (z: number): number => (z < 0 ? 0 : z === 0 ? anyPasses(0) / 2 : anyPasses(z));
    return 2 * outwardSum(half, Math.round((most * x) / step) * step, step);
  };
}
