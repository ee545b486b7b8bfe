import { brentMinimum, brentRoot, seededRandom } from "../../numerics/index.ts";
import type { Setting, Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import { fitLinear } from "../fit-linear.ts";
import type { FitOptions } from "../fit-options.ts";
import type { Effect, Fit } from "../fit.ts";
import type { ObservedFactor, Observations } from "../observations.ts";
import { termValue, toldMatrix } from "../term-values.ts";
import { interval, withReason } from "../words.ts";
import { restrictedLikelihood, type RestrictedLikelihood } from "./restricted-likelihood.ts";
import { scatterSentence, type ScatterEffect } from "./scatter-effect.ts";

export interface ResidualScatterOptions extends Omit<FitOptions, "weights" | "throughOrigin" | "coded"> {
  /** Simulated trials behind each p and interval. Default 999. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
}

/** One factor's effect on the scatter, judged from the residuals. */
export interface ResidualScatterEffect extends ScatterEffect {
  /** ln of the ratio of the mean squares of the residuals at its two ends (Box and Meyer 1986); null where a factor stands at more than two settings. */
  readonly residualLogRatio: number | null;
}

/** Effects on scatter without replicates, beside those on the response. */
export interface ResidualScatter {
  readonly response: { readonly name: string; readonly unit: string };
  readonly confidence: number;
  readonly logScale: boolean;
  readonly scatter: readonly ResidualScatterEffect[];
  readonly location: readonly Effect[];
  readonly methodText: string;
  readonly notes: readonly string[];
}

/** Ratios of scatter beyond e^6 are no longer told apart by so few runs. */
const farthest = 6;

/**
 * What each factor does to the scatter where nothing was cut twice, from what the model leaves over. The log ratio of the residuals' mean squares at the two ends of a factor
 * (Box and Meyer 1986, Technometrics 28, 19–27) is told, but it mistakes effects that the model lacks for scatter and counts residuals as if they were free
 * of the fit; so the verdict is by restricted likelihood, one factor at a time, whose coefficients are fitted anew with the scatter, with p and the reach of the interval
 * from simulated trials of the same plan with even scatter (seeded).
 * The effects on the response must be in the model first: one left out looks like scatter. Refused: fewer than three residual degrees of freedom, weights, residuals of zero.
 * Sources: as above; Harville 1977; Smyth and Verbyla 1999, Environmetrics 10, 695–709 (restricted likelihood for scatter).
 */
export function scatterFromResiduals(
  source: Trial | Observations | Fit,
  options: ResidualScatterOptions = {},
): ResidualScatter {
  const { draws = 999, seed = 1, ...rest } = options;
  if (!(Number.isInteger(draws) && draws >= 99 && draws <= 100_000))
    throw modelError(`${draws} draws`, "a whole number from 99 to 100000");
  const fit = "predict" in source ? source : fitLinear(source, rest);
  requireFit(fit);
  const rows = toldMatrix(fit);
  const response = Float64Array.from(fit.rows, ({ value }) => value);
  return {
    response: fit.response,
    confidence: fit.confidence,
    logScale: fit.logScale,
    location: fit.effects,
    scatter: fit.factors.flatMap((factor) =>
      stepsOf(factor).map(([from, to]) =>
        oneEffect(fit, { factor, from, to }, rows, response, { draws, seed }),
      ),
    ),
    methodText: `Restricted likelihood of the scatter at the two ends of each factor, one at a time; p and intervals from ${draws} simulated trials of this plan (seed ${seed}). Beside it the log ratio of the residuals' mean squares (Box and Meyer 1986, Technometrics 28, 19–27).`,
    notes: [
      ...fit.notes,
      "An effect on the response that the model lacks looks like an effect on the scatter: put every effect that stands out into the model first.",
    ],
  };
}

/** Every factor, in the model or not: low to high, or each level against the first. */
function stepsOf(factor: ObservedFactor): readonly (readonly [Setting, Setting])[] {
  if (factor.kind === "category") return factor.levels.slice(1).map((level) => [factor.levels[0], level]);
  return factor.high > factor.low ? [[factor.low, factor.high]] : [];
}

function oneEffect(
  fit: Fit,
  { factor, from, to }: { readonly factor: ObservedFactor; readonly from: Setting; readonly to: Setting },
  rows: readonly Float64Array[],
  response: Float64Array,
  { draws, seed }: { readonly draws: number; readonly seed: number },
): ResidualScatterEffect {
  const { name } = factor;
  const z = placesOf(fit, name, from, to);
  const of = restrictedLikelihood(rows, z);
  const likelihood = (slope: number): number => of(slope)(response);
  const found = profileBest(likelihood);
  const drawn = drawnDeviances(of, response.length, { draws, seed });
  const p = (1 + drawn.filter((deviance) => deviance >= found.deviance).length) / (draws + 1);
  const cut = drawn[Math.min(draws - 1, Math.ceil(fit.confidence * (draws + 1)) - 1)];
  const ends = profileEnds(likelihood, found, cut);
  const value =
    ends === null
      ? withReason(
          Math.exp(found.at),
          `${fit.rows.length} runs leave its scatter open without end to one side`,
        )
      : interval(Math.exp(found.at), Math.exp(ends[0]), Math.exp(ends[1]), fit.confidence);
  const effect = { factor: name, from, to, value, p };
  return {
    ...effect,
    residualLogRatio: boxMeyer(fit, z),
    sentence: scatterSentence(effect, factor, fit.response.name),
  };
}

/** Deviances of trials of this plan whose scatter is even, smallest first: on a grid of slopes, the peak by a parabola through the best three. */
function drawnDeviances(
  of: RestrictedLikelihood,
  runs: number,
  { draws, seed }: { readonly draws: number; readonly seed: number },
): readonly number[] {
  const random = seededRandom(seed);
  const middle = 24;
  const grid = Array.from({ length: 2 * middle + 1 }, (_, k) => of(((k - middle) * farthest) / middle));
  return Array.from({ length: draws }, () => {
    const noise = Float64Array.from({ length: runs }, () => random.normal());
    const values = grid.map((at) => at(noise));
    let best = 0;
    for (let k = 1; k < values.length; k++) if (values[k] > values[best]) best = k;
    const [before, peak, after] = [values[best - 1], values[best], values[best + 1]];
    const bend = before - 2 * peak + after;
    const above = bend < 0 ? (before - after) ** 2 / (-8 * bend) : 0;
    return Math.max(0, peak + (Number.isFinite(above) ? above : 0) - values[middle]);
  }).sort((a, b) => a - b);
}

/** The place of each row between the two ends: −½ at `from`, ½ at `to`, so that the slope is the log ratio. Other levels of a category stand between. */
function placesOf(fit: Fit, name: string, from: Setting, to: Setting): readonly number[] {
  if (typeof from === "string") {
    return fit.rows.map(({ settings }) => {
      const level = String(settings[name]);
      return level === to ? 0.5 : level === from ? -0.5 : 0;
    });
  }
  const of = (setting: Setting): number => termValue(fit, { [name]: 1 }, { settings: { [name]: setting } });
  const [low, high] = [of(from), of(to)];
  return fit.rows.map(({ settings }) => (of(settings[name]) - low) / (high - low) - 0.5);
}

interface Best {
  readonly at: number;
  readonly value: number;
  /** Twice the log-likelihood gained over even scatter. */
  readonly deviance: number;
}

function profileBest(likelihood: (slope: number) => number): Best {
  // A coarse look first: a likelihood of few runs may have a second peak far out.
  const step = farthest / 3;
  let near = 0;
  let most = -Infinity;
  for (let k = -3; k <= 3; k++) {
    const value = likelihood(k * step);
    if (value > most) [near, most] = [k * step, value];
  }
  const best = brentMinimum(
    (slope) => -likelihood(slope),
    Math.max(-farthest, near - step),
    Math.min(farthest, near + step),
    { tolerance: 1e-4 },
  );
  return { at: best.at, value: -best.value, deviance: Math.max(0, -best.value - likelihood(0)) };
}

function profileEnds(
  likelihood: (slope: number) => number,
  best: Best,
  cut: number,
): readonly [number, number] | null {
  const miss = (slope: number): number => best.value - likelihood(slope) - cut;
  if (miss(-farthest) <= 0 || miss(farthest) <= 0) return null;
  return [
    brentRoot(miss, -farthest, best.at, { tolerance: 1e-7 }),
    brentRoot(miss, best.at, farthest, { tolerance: 1e-7 }),
  ];
}

/** ln of the mean square of the residuals at the upper end over that at the lower. */
function boxMeyer(fit: Fit, z: readonly number[]): number | null {
  const ends = z.every((place) => Math.abs(Math.abs(place) - 0.5) < 1e-9);
  if (!ends) return null;
  const meanSquare = (side: number): number => {
    const own = fit.rows.filter((_, i) => Math.sign(z[i]) === side);
    return own.reduce((sum, { residual }) => sum + residual * residual, 0) / own.length;
  };
  const ratio = meanSquare(1) / meanSquare(-1);
  return ratio > 0 && Number.isFinite(ratio) ? Math.log(ratio) : null;
}

function requireFit(fit: Fit): void {
  if (fit.weights !== null) throw modelError("a weighted fit to judge scatter from", "rows that count alike");
  if (fit.residualDf < 3)
    throw modelError(
      `${fit.residualDf} degrees of freedom left over`,
      "three or more to judge scatter from",
      "Ask for fewer terms.",
    );
  if (!(fit.residualSd !== null && fit.residualSd > 0))
    throw modelError("runs that the model meets exactly", "runs with scatter", "Read with more digits.");
}
