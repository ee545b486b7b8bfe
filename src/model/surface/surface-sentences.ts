import type { Fit } from "../fit.ts";
import { bendIntervals } from "./bend-intervals.ts";
import { stationaryRegion } from "./stationary-region.ts";

/** Where a surface is level, where that may be in truth, and how it bends, each with its interval; nothing for a fit without squares of quantities. */
export function surfaceSentences(fit: Fit): readonly string[] {
  if (fit.surface === null) return [];
  const region = fit.surface.stationary === null || fit.noInterval !== "" ? [] : [stationaryRegion(fit).text];
  return [fit.surface.text, ...region, ...bendIntervals(fit).map(({ text }) => text)];
}
