import { countText } from "./fitted-rows.ts";
import { endPoints, type InteractionLine } from "./interaction-lines.ts";
import { roundedText } from "./number-text.ts";
import { withUnit } from "./shown.ts";
import type { Fit } from "../model/index.ts";

/** The text alternative of an interaction figure. */
export function interactionText(
  fit: Fit,
  lines: readonly InteractionLine[],
  parts: {
    readonly title: string;
    readonly unit: string;
    readonly where: string;
    readonly thinning: string;
  },
): string {
  const said = lines.map((line) => {
    const ends = endPoints(line.curve);
    const from = ends[0]?.estimate ?? 0;
    const to = ends.at(-1)?.estimate ?? 0;
    const change = fit.logScale
      ? `a ratio of ${roundedText(to / from)}`
      : `a change of ${withUnit(roundedText(to - from), parts.unit)}`;
    return `At ${line.text} the fit goes from ${roundedText(from)} to ${withUnit(roundedText(to), parts.unit)}, ${change}.`;
  });
  return [
    `${parts.title}: ${countText(fit)}${parts.where === "" ? "" : `, other factors at ${parts.where}`}.`,
    ...said,
    fit.noInterval === "" ? "" : `No interval: ${fit.noInterval}`,
    parts.thinning,
  ]
    .filter((each) => each !== "")
    .join(" ");
}
