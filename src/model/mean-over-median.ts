import { formatNumber } from "../units/index.ts";
import { modelError } from "./error.ts";
import type { Fit } from "./fit.ts";

/** How a mean stands to the median that a fit on logarithms tells. */
export interface MeanOverMedian {
  /** Multiplies a median, to give the mean of many runs at that setting. */
  readonly factor: number;
  readonly text: string;
}

/**
 * What to multiply a predicted median with for a mean, by smearing: the mean of the exponentials of the residuals, which asks for no normal scatter (Duan
 * 1983, Journal of the American Statistical Association 78, 605–610). Use it where a total counts, such as stock or minutes; a limit that each part must keep
 * is a matter for the median and the next part. Refuses a fit that was not made on logarithms.
 *
 * Example: residuals ln 0.9 and ln 1.1 in equal numbers give 1, and a scatter of 20 % about 1.02.
 */
export function meanOverMedian(fit: Fit): MeanOverMedian {
  if (!fit.logScale)
    throw modelError(
      "a fit of the response itself",
      "one on logarithms",
      "Its predictions are means already.",
    );
  const rows = fit.rows;
  const total = rows.reduce((sum, { residual }, i) => sum + (fit.weights?.[i] ?? 1) * Math.exp(residual), 0);
  const weight = rows.reduce((sum, _, i) => sum + (fit.weights?.[i] ?? 1), 0);
  const factor = total / weight;
  const { name } = fit.response;
  return {
    factor,
    text: `What is told of ${name} is the median: as many runs lie above as below. The mean of many runs is ${formatNumber(factor, { digits: 4 })} times it.`,
  };
}
