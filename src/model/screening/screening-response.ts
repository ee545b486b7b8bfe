import { modelError } from "../error.ts";
import type { Observations } from "../observations.ts";

/**
 * The response that a screening works on, and the columns that every model holds: the mean, and each block's own level. `log` takes
 * natural logarithms, where the rows are not means of logarithms already. Refuses values that are not finite, no logarithm, and fewer than five rows.
 */
export function screeningResponse(
  observations: Observations,
  log: boolean,
): { readonly response: Float64Array; readonly base: readonly Float64Array[] } {
  const { rows, response, logScale = false } = observations;
  if (rows.length < 5)
    throw modelError(`${rows.length} runs for a screening`, "five or more", "Fit main effects instead.");
  const values = Float64Array.from(rows, ({ value, run }) => {
    if (!Number.isFinite(value)) throw modelError(`run ${run}: ${response.name} ${value}`, "a finite number");
    if (!log || logScale) return value;
    if (value > 0) return Math.log(value);
    throw modelError(
      `run ${run}: ${response.name} ${value}, of which there is no logarithm`,
      "values above zero",
      "Screen without the logarithm.",
    );
  });
  const blocks = [...new Set(rows.map(({ block }) => block))];
  const base = blocks.map((block) => Float64Array.from(rows, (row) => (row.block === block ? 1 : 0)));
  return { response: values, base };
}
