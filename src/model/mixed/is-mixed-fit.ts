import type { Fit } from "../fit.ts";
import type { MixedFit } from "./mixed-fit.ts";

/** Whether a fit has random sources of scatter, whose variances can then be read. */
export function isMixedFit(fit: Fit): fit is MixedFit {
  return "variances" in fit;
}
