import type { OptimalProblem } from "./problem.ts";
import { searchStarts, type SearchOutcome } from "./search.ts";

/** The starts one by one, with a breath for the rest of the program after each. */
export async function searchInSlices(
  { model, request }: OptimalProblem,
  options: {
    readonly signal?: AbortSignal;
    readonly onStart?: (worths: readonly number[]) => void;
  },
): Promise<SearchOutcome> {
  let best = searchStarts(model, request, { from: 0, to: 1 });
  const worths = [...best.worths];
  options.onStart?.(worths);
  for (let start = 1; start < request.starts; start += 1) {
    await new Promise((resolve) => setImmediate(resolve));
    if (options.signal?.aborted === true) return { ...best, worths, stoppedOf: request.starts };
    const found = searchStarts(model, request, { from: start, to: start + 1 });
    worths.push(...found.worths);
    if (found.worth > best.worth) best = found;
    options.onStart?.(worths);
  }
  return { ...best, worths };
}
