import { effectsWithoutRun, isMixedFit, type Fit } from "../model/index.ts";
import { differenceUnit, formatNumber } from "../units/index.ts";

/** "Without run 7 the effect of feed 0.08 mm/rev to 0.24 mm/rev would be 0.31 µm, not 0.45 µm." The effect that moves most; empty where none can be told, and of a fit with random sources. */
export function whatWouldChange(fit: Fit, run: number): string {
  if (isMixedFit(fit)) return "";
  const effects = effectsWithoutRun(fit, run);
  if (effects === null) return `Without run ${run} the terms can't be told apart.`;
  const [first, ...others] = effects.filter(({ moved }) => moved !== null);
  if (first === undefined) return "";
  const most = others.reduce((top, one) => (one.moved! > top.moved! ? one : top), first);
  const unit = fit.response.unit === "" ? "" : ` ${differenceUnit(fit.response.unit)}`;
  const gap = Math.abs(most.all - most.without);
  const told = (value: number): string =>
    most.as === "ratio"
      ? `${formatNumber(value, { digits: 3 })} times`
      : `${formatNumber(value, gap > 0 ? { uncertainty: gap } : { digits: 3 })}${unit}`;
  return most.as === "ratio"
    ? `Without run ${run}, ${most.label} would multiply ${fit.response.name} by ${told(most.without).replace(" times", "")}, not by ${told(most.all).replace(" times", "")}.`
    : `Without run ${run} the effect of ${most.label} would be ${told(most.without)}, not ${told(most.all)}.`;
}
