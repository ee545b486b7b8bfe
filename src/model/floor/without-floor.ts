import { fTail, leastSquares, tQuantile, type NonlinearFit } from "../../numerics/index.ts";
import type { Setting } from "../../trial/index.ts";
import type { Uncertain } from "../fit.ts";
import { interval, withReason } from "../words.ts";
import type { LawPart } from "./floor-model.ts";
import type { FloorData } from "./search-floor.ts";

/** A power law without a floor on the same runs. */
export interface WithoutFloor {
  readonly exponents: readonly { readonly factor: string; readonly value: Uncertain }[];
  readonly residualSd: number | null;
  /** F of what the floor explains beyond it, on 1 and `df` degrees of freedom; null where there is nothing to compare with. */
  readonly f: number | null;
  readonly p: number | null;
  readonly text: string;
  /** The median, in the response's unit. */
  readonly predict: (at: Readonly<Record<string, Setting>>) => number;
}

/** Null where the parts can't be told apart. */
export function withoutFloor(
  data: FloorData,
  parts: readonly LawPart[],
  confidence: number,
  fit: NonlinearFit | null,
  unit: number,
): WithoutFloor | null {
  const rows = data.response.length;
  const solution = leastSquares(
    [new Float64Array(rows).fill(1), ...data.columns].map((high) => ({ high })),
    data.response,
    data.weights === undefined ? {} : { weights: data.weights },
  );
  if (solution.rank < parts.length + 1) return null;
  const { df, rank, inverseCross, coefficients, residualSumOfSquares } = solution;
  const variance = df > 0 ? residualSumOfSquares / df : null;
  const t = df > 0 ? tQuantile((1 + confidence) / 2, df) : 0;
  const exponents = parts.flatMap(({ factor, level }, k) => {
    if (level !== undefined) return [];
    const estimate = coefficients[k + 1];
    if (variance === null) return [{ factor, value: withReason(estimate, "no run is left over") }];
    const half = t * Math.sqrt(variance * inverseCross[(k + 1) * rank + k + 1]);
    return [{ factor, value: interval(estimate, estimate - half, estimate + half, confidence) }];
  });
  const more = fit === null ? 0 : residualSumOfSquares - fit.residualSumOfSquares;
  const known = fit !== null && fit.df > 0 && fit.residualSumOfSquares > 0;
  const f = known ? Math.max(0, more) / (fit.residualSumOfSquares / fit.df) : null;
  return {
    predict: (at) =>
      unit * Math.exp(parts.reduce((sum, { of }, k) => sum + coefficients[k + 1] * of(at), coefficients[0])),
    exponents,
    residualSd: variance === null ? null : Math.sqrt(variance),
    f,
    p: f === null || fit === null ? null : fTail(f, 1, fit.df),
    text: `Without a floor ${exponents.map(({ factor, value }) => `the exponent of ${factor} is ${value.text}`).join(", ")}.`,
  };
}
