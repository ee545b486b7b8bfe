import { covariance, regionMoments } from "../judge/efficiency.ts";
import type { Telling } from "./telling.ts";

/**
 * Variance of the predicted mean, averaged over the region (quantities −1..+1, levels of categories in equal shares), for
 * σ = 1, in closed form: the sum of moments times covariances. Null where the runs can't tell the terms apart. Blocks are
 * averaged over.
 */
export function averageVarianceOf({ told: { model, information } }: Telling): number | null {
  if (information.dropped.length > 0) return null;
  const own = model.parts.flatMap((part, index) => (part ? [index] : []));
  const moments = regionMoments(model.parts);
  let variance = 0;
  own.forEach((one, place) => {
    for (const other of own.slice(place)) {
      const moment = moments(one, other);
      if (moment !== 0) variance += (one === other ? 1 : 2) * moment * covariance(information, one, other);
    }
  });
  return variance;
}
