import { countText } from "./fitted-rows.ts";
import { roundedText, toHalfWidth } from "./number-text.ts";
import type { ResidualScale } from "./residual-scale.ts";
import { withUnit } from "./shown.ts";
import { extent } from "../numerics/index.ts";
import type { Fit } from "../model/index.ts";

/** The text alternative of a residual figure. */
export function residualText(
  fit: Fit,
  parts: {
    readonly title: string;
    readonly scale: ResidualScale;
    readonly apart: readonly number[];
    readonly values: readonly number[];
    readonly thinning: string;
  },
): string {
  const { scale, apart } = parts;
  const [low, high] = extent(parts.values);
  const sign = scale.type === "log" ? "×" : "";
  const half = fit.residualSd === null ? Number.NaN : Math.abs(scale.value(fit.residualSd) - scale.none);
  const number = (value: number): string => withUnit(`${sign}${toHalfWidth(value, half)}`, scale.unit);
  const sd =
    fit.residualSd === null
      ? `No residual standard deviation: ${fit.noInterval}`
      : `The residual standard deviation is ${scale.type === "log" ? `a ratio of ${sign}${roundedText(Math.exp(fit.residualSd))}` : withUnit(roundedText(half), scale.unit)}, ${fit.residualDf} degrees of freedom.`;
  return [
    `${parts.title}: ${countText(fit)}, residuals from ${number(low)} to ${number(high)}.`,
    sd,
    apart.length === 0
      ? "No run’s studentised residual passes 3."
      : `Studentised residuals past 3: run ${apart.join(", run ")}.`,
    parts.thinning,
  ]
    .filter((each) => each !== "")
    .join(" ");
}
