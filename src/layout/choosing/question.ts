import { listed } from "../../units/index.ts";
import type { Factor, TrialSpec } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";

/** What the trial is to answer. */
export type Stake = "which-matter" | "how-they-combine" | "how-curved" | "best-setting";

/** Each question in the words in which it is put. */
export const stakes: Readonly<Record<Stake, string>> = {
  "which-matter": "Which factors matter?",
  "how-they-combine": "Does one factor change the effect of another?",
  "how-curved": "Where does the effect of a factor bend?",
  "best-setting": "Which setting is best?",
};

/** What is known of the trial before a layout is chosen. */
export interface LayoutQuestion {
  /** 1 to 12. */
  readonly factors: readonly Factor[];
  readonly stake: Stake;
  /** How many passes are at hand. */
  readonly passes: number;
  /** The run-to-run standard deviation in the response's unit, or from where to where it is guessed; left out, unknown. */
  readonly sigma?: number | { readonly low: number; readonly high: number } | undefined;
  /** The smallest change from low to high worth knowing, in the response's unit. */
  readonly effect?: number | undefined;
  /** Of the intervals; default 0.95. */
  readonly confidence?: number | undefined;
  /** The response's unit, for the sentences. */
  readonly unit?: string | undefined;
  /** What is cut with: for cost, and to refuse what a stated limit forbids. */
  readonly trial?: Partial<Omit<TrialSpec, "factors" | "layout">> | undefined;
  /** Variance between set-ups of factors that are hard to change over the variance between runs; default 1. */
  readonly varianceRatio?: number | undefined;
  /** Settles every random order and search; default 1. */
  readonly seed?: number | undefined;
}

/** With fewer degrees of freedom for error intervals are so wide that they answer only with a reservation (t is 4.3 at 2). */
export const FEWEST_DF = 3;

/** The chance with which an effect that is worth knowing should be seen. */
export const WANTED_CHANCE = 0.8;

/** Where nothing is said of scatter or effect, layouts are compared by the chance to see an effect of so many σ. */
export const YARDSTICK_IN_SIGMA = 2;

const MOST_FACTORS = 12;
const MOST_PASSES = 1000;

/** The question with its defaults, its numbers checked. */
export interface CheckedQuestion extends LayoutQuestion {
  readonly confidence: number;
  readonly unit: string;
  readonly seed: number;
  /** Low and high of σ, equal where it is known; null where nothing is said. */
  readonly sigmaRange: readonly [number, number] | null;
  /** The effect that candidates are compared by, in σ (its high end, where a range is given). */
  readonly effectInSigma: number;
}

export function checkedQuestion(question: LayoutQuestion): CheckedQuestion {
  const {
    factors,
    stake,
    passes,
    sigma,
    effect,
    varianceRatio = 1,
    confidence = 0.95,
    unit = "",
    seed = 1,
  } = question;
  if (factors.length < 1 || factors.length > MOST_FACTORS) {
    throw new LayoutError(
      `factors: ${factors.length} given; a layout is chosen for 1 to ${MOST_FACTORS}. ${factors.length < 1 ? "Name at least one." : "Hold the least likely ones still, or lay out without choosing."}`,
    );
  }
  if (!Object.hasOwn(stakes, stake)) {
    throw new LayoutError(
      `stake: "${String(stake)}" is no question that is known; expected ${listed(Object.keys(stakes), "or")}.`,
    );
  }
  if (!Number.isInteger(passes) || passes < 1 || passes > MOST_PASSES) {
    throw new LayoutError(
      `passes: ${passes}; expected a whole number from 1 to ${MOST_PASSES.toLocaleString("en")}.`,
    );
  }
  if (!(confidence > 0.5 && confidence < 1)) {
    throw new LayoutError(
      `confidence: ${confidence}; expected a number above 0.5 and below 1, such as 0.95.`,
    );
  }
  if (!(varianceRatio >= 0 && Number.isFinite(varianceRatio))) {
    throw new LayoutError(
      `varianceRatio: ${varianceRatio}; expected the variance between set-ups over that between runs, 0 or above. 1 says that a set-up scatters as much as a run.`,
    );
  }
  const sigmaRange = rangeOf(sigma);
  if (effect !== undefined && !(effect > 0 && Number.isFinite(effect))) {
    throw new LayoutError(
      `effect: ${effect}; expected the smallest change worth knowing, above zero, in the response's unit.`,
    );
  }
  const effectInSigma =
    effect === undefined || sigmaRange === null ? YARDSTICK_IN_SIGMA : effect / sigmaRange[1];
  return { ...question, confidence, unit, seed, sigmaRange, effectInSigma };
}

function rangeOf(sigma: LayoutQuestion["sigma"]): readonly [number, number] | null {
  if (sigma === undefined) return null;
  const [low, high] = typeof sigma === "number" ? [sigma, sigma] : [sigma.low, sigma.high];
  for (const value of [low, high]) {
    if (!(value > 0 && Number.isFinite(value))) {
      throw new LayoutError(
        `sigma: ${value}; expected the run-to-run standard deviation, above zero. Leave it out where it is unknown.`,
      );
    }
  }
  if (low > high) {
    throw new LayoutError(`sigma: from ${low} to ${high}; expected the lower one first. Swap them.`);
  }
  return [low, high];
}
