import type { Term } from "../../model/index.ts";
import type { Factor, Run } from "../../trial/index.ts";
import { covariance, regionMoments } from "../judge/efficiency.ts";
import { informationOf } from "../judge/information.ts";
import { modelColumns } from "../judge/model-columns.ts";

/**
 * Variance of the predicted mean, averaged over the region (quantities −1..+1, levels of categories in equal shares), for
 * σ = 1, in closed form: the sum of moments times covariances. Null where the runs can't tell the terms apart. Blocks are
 * averaged over.
 */
export function averageVarianceOf(
  factors: readonly Factor[],
  terms: readonly Term[],
  runs: readonly Pick<Run, "block" | "settings">[],
): number | null {
  const model = modelColumns(factors, terms, runs);
  const information = informationOf(model.columns);
  if (information.dropped.length > 0) return null;
  const own = model.parts.flatMap((part, index) => (part ? [index] : []));
  const moments = regionMoments(model.parts);
  let variance = 0;
  for (const one of own) {
    for (const other of own) {
      const moment = moments(one, other);
      if (moment !== 0) variance += moment * covariance(information, one, other);
    }
  }
  return variance;
}
