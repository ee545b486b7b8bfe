import type { OptimalProblem } from "./problem.ts";
import { startMaker, tally, type SearchOutcome } from "./search.ts";

/** The starts one by one, with a breath for the rest of the program after each. */
export async function searchInSlices(
  { model, request }: OptimalProblem,
  options: {
    readonly signal?: AbortSignal;
    readonly onStart?: (worths: readonly number[]) => void;
  },
): Promise<SearchOutcome> {
  const { signal } = options;
  const make = startMaker(model, request);
  const found = tally(request.starts);
  for (let start = 0; start < request.starts; start += 1) {
    if (start > 0) await new Promise((resolve) => setImmediate(resolve));
    if (start > 0 && signal?.aborted === true) break;
    found.add(start, make(start));
    options.onStart?.(found.outcome().worths);
  }
  return found.outcome();
}
