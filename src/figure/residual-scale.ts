import { differenceUnit } from "../units/index.ts";
import { figureError } from "./error.ts";
import { shownIn, type Display } from "./shown.ts";
import type { Fit } from "../model/index.ts";

/** How residuals are shown: as ratios of reading to fit on logarithms, else as differences in the response's unit. */
export interface ResidualScale {
  readonly name: string;
  readonly unit: string;
  readonly type: "linear" | "log";
  /** No residual: ×1, or 0. */
  readonly none: number;
  readonly value: (residual: number) => number;
  /** A fitted value on the response's own scale, in the shown unit. */
  readonly fitted: (fitted: number) => number;
  readonly fittedUnit: string;
}

export function residualScale(fit: Fit, display: Display): ResidualScale {
  const shown = shownIn(fit.response.unit, display);
  const zero = shown.value(0);
  if (fit.logScale) {
    return {
      name: `${fit.response.name}: read by fitted`,
      unit: "",
      type: "log",
      none: 1,
      value: Math.exp,
      fitted: (fitted) => shown.value(Math.exp(fitted)),
      fittedUnit: shown.unit,
    };
  }
  return {
    name: `${fit.response.name}: read less fitted`,
    unit: differenceUnit(shown.unit),
    type: "linear",
    none: 0,
    value: (residual) => shown.value(residual) - zero,
    fitted: shown.value,
    fittedUnit: shown.unit,
  };
}

/** As far below as above, so that the eye judges both sides alike. */
export function symmetric(values: readonly number[], scale: ResidualScale): readonly number[] {
  if (scale.type === "log") {
    const reach = Math.max(1.01, ...values.map((value) => Math.max(value, 1 / value)));
    return [1 / reach, reach];
  }
  const reach = Math.max(...values.map(Math.abs)) || 1;
  return [-reach, reach];
}

/**
 * Residuals by their own standard error (internally studentised), so that runs which pull the fit towards themselves are judged
 * alike. Null for a run that decides its own fitted value. Refused without a residual scatter to judge by.
 */
export function standardisedResiduals(fit: Fit): readonly (number | null)[] {
  const { residualSd } = fit;
  if (residualSd === null || !(residualSd > 0)) {
    throw figureError({
      given: `a fit of ${fit.response.name} that leaves no scatter${fit.noInterval === "" ? "" : ` (${fit.noInterval})`}`,
      expected: "runs left over to judge residuals by",
      mend: "Cut replicates, or take terms out of the model.",
    });
  }
  return fit.rows.map(({ residual, leverage }) => {
    // Where leverages would take too long there are thousands of rows, and each has next to none.
    const free = 1 - (leverage ?? 0);
    // Below this the run has, but for rounding, the fitted value to itself.
    return free > 1e-9 ? residual / (residualSd * Math.sqrt(free)) : null;
  });
}
