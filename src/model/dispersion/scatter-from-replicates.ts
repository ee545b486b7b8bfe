import { leastSquares, normalQuantile, normalTail } from "../../numerics/index.ts";
import type { Trial } from "../../trial/index.ts";
import { fitLinear } from "../fit-linear.ts";
import type { FitOptions } from "../fit-options.ts";
import type { Effect, Fit } from "../fit.ts";
import type { Observations } from "../observations.ts";
import { termValue } from "../term-values.ts";
import { interval, isInterval, withReason } from "../words.ts";
import { logVarianceMoments } from "./log-variance.ts";
import { scatterCells, type ScatterCell, type ScatterOf } from "./scatter-cells.ts";
import { scatterSentence, type ScatterEffect } from "./scatter-effect.ts";

export interface ScatterOptions extends Omit<FitOptions, "weights" | "throughOrigin" | "coded" | "block"> {
  /** `runs`: fresh runs at the same settings; `readings`: several readings of each run. Default `runs`. */
  readonly of?: ScatterOf;
}

/** Scatter as a response, beside the effects on the response itself. */
export interface ScatterFit {
  readonly response: { readonly name: string; readonly unit: string };
  readonly of: ScatterOf;
  readonly confidence: number;
  /** True where the scatter is of logarithms: relative scatter. */
  readonly logScale: boolean;
  readonly cells: readonly ScatterCell[];
  /** On the scatter: ratios of standard deviations. */
  readonly scatter: readonly ScatterEffect[];
  /** On the response itself, from the same runs. */
  readonly location: readonly Effect[];
  readonly methodText: string;
  readonly notes: readonly string[];
}

/**
 * What each factor does to the scatter, from replicates or from readings of one run: the logarithm of each setting's variance is fitted on the terms of the model, corrected for its bias
 * and weighted by its known variance (its degrees of freedom), so that intervals need no scatter of the scatter. Effects are ratios of standard deviations,
 * location beside them, for finding settings that keep a finish steady as well as low.
 * Settings that read the same every time have no logarithm: they are left out and named. Refused: no replicates (use `scatterFromResiduals`).
 * Intervals take the scatter to be normal; with one or two degrees of freedom a setting they are a little short in one tail.
 * Source: Bartlett and Kendall 1946, Journal of the Royal Statistical Society Supplement 8, 128–138.
 * Example: two settings of variance 1 and 4 on 10 degrees of freedom each: a ratio of 2, 95 % 1.04 to 3.8.
 */
export function scatterFromReplicates(
  source: Trial | Observations | Fit,
  options: ScatterOptions = {},
): ScatterFit {
  const { of = "runs", ...rest } = options;
  const fit = "predict" in source ? source : fitLinear(source, rest);
  const cells = scatterCells(fit, of);
  const told = cells.filter(({ standardDeviation }) => isInterval(standardDeviation));
  const silent = cells.length - told.length;
  return {
    response: fit.response,
    of,
    confidence: fit.confidence,
    logScale: fit.logScale,
    cells,
    scatter: effectsOn(fit, told),
    location: fit.effects,
    methodText:
      "Logarithms of the variances, less their bias, weighted by what their degrees of freedom make of them (Bartlett and Kendall 1946); intervals take the scatter to be normal.",
    notes: [
      ...fit.notes,
      ...(silent === 0
        ? []
        : [
            `${silent} of ${cells.length} settings read the same every time and say nothing about ratios of scatter: read with more digits.`,
          ]),
    ],
  };
}

function effectsOn(fit: Fit, cells: readonly ScatterCell[]): readonly ScatterEffect[] {
  // The terms without blocks: scatter is taken to be the same in all of them.
  const terms = fit.coefficients
    .map(({ term }) => term)
    .filter((term) => Object.keys(term).every((key) => isOfFactor(fit, key)));
  const columns = terms.map((term) => ({
    high: Float64Array.from(cells, ({ settings }) => termValue(fit, term, { settings })),
  }));
  const moments = cells.map(({ df }) => logVarianceMoments(df));
  const response = Float64Array.from(
    cells,
    ({ standardDeviation }, i) => 2 * Math.log(standardDeviation.estimate!) - moments[i].bias,
  );
  const weights = Float64Array.from(moments, ({ variance }) => 1 / variance);
  const solution = cells.length === 0 ? null : leastSquares(columns, response, { weights });
  return fit.effects.map(({ factor: name, from, to }): ScatterEffect => {
    const factor = fit.factors.find((one) => one.name === name)!;
    const step = terms.map(
      (term) =>
        termValue(fit, term, { settings: { [name]: to } }) -
        termValue(fit, term, { settings: { [name]: from } }),
    );
    const effect = { factor: name, from, to, ...ratioOf(solution, step, fit.confidence) };
    return { ...effect, sentence: scatterSentence(effect, factor, fit.response.name) };
  });
}

function ratioOf(
  solution: ReturnType<typeof leastSquares> | null,
  step: readonly number[],
  confidence: number,
): Pick<ScatterEffect, "value" | "p"> {
  const lost = solution === null || solution.dropped.some(({ column }) => Math.abs(step[column]) > 1e-12);
  if (lost)
    return { value: withReason(null, "too few settings with replicates to tell it from the rest"), p: null };
  const { kept, rank, coefficients, inverseCross } = solution;
  let [estimate, variance] = [0, 0];
  for (let i = 0; i < rank; i++) {
    estimate += step[kept[i]] * coefficients[i];
    for (let j = 0; j < rank; j++) variance += step[kept[i]] * step[kept[j]] * inverseCross[i * rank + j];
  }
  const error = Math.sqrt(variance);
  if (!(error > 0))
    return { value: withReason(null, "it was not moved among the settings with replicates"), p: null };
  const half = normalQuantile((1 + confidence) / 2) * error;
  // Half the difference of log variances is the logarithm of the ratio of standard deviations.
  return {
    value: interval(
      Math.exp(estimate / 2),
      Math.exp((estimate - half) / 2),
      Math.exp((estimate + half) / 2),
      confidence,
    ),
    p: Math.min(1, 2 * normalTail(Math.abs(estimate) / error)),
  };
}

function isOfFactor(fit: Fit, key: string): boolean {
  return fit.factors.some(({ name }) => key === name || key.startsWith(`${name}=`));
}
