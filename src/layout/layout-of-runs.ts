import type { Run } from "../trial/index.ts";
import { readOptions } from "./common-options.ts";
import { LayoutError } from "./error.ts";
import { inOrder, layOut, type LayoutRequest } from "./lay-out.ts";
import type { Layout } from "./layout.ts";
import { optimalSchema } from "./optimal/options.ts";

/**
 * The layout that a trial's first runs still are, with the rules that their order obeys; null where the runs came from
 * elsewhere, or the specification has changed since.
 *
 * Use it to say of a plan that lies on disk what its layout says. Runs that were added later do not matter. Runs of kind
 * `optimal` are not searched for again: that they are in the order which the specification gives is what is checked.
 *
 * Example: `layoutOfRuns(trial.spec, trial.runs)?.orderRules`.
 */
export function layoutOfRuns(request: LayoutRequest, runs: readonly Run[]): Layout | null {
  try {
    const layout = request.layout.kind === "optimal" ? searched(request, runs) : layOut(request);
    const same = JSON.stringify(layout.runs) === JSON.stringify(runs.slice(0, layout.runs.length));
    return same && layout.runs.length > 0 ? layout : null;
  } catch (error) {
    if (error instanceof LayoutError) return null;
    throw error;
  }
}

/** The runs in the order in which they were found, put into cutting order afresh. */
function searched(request: LayoutRequest, runs: readonly Run[]): Layout {
  const options = readOptions("optimal", optimalSchema, request.layout);
  const found = runs
    .filter(({ role }) => role !== "added" && role !== "proof")
    .sort((one, other) => one.standard - other.standard)
    .map(({ standard, block, role, settings }) => ({
      standard,
      // Where the order alone made blocks, the search knew of one.
      block: options.blocks === 1 ? 1 : block,
      role,
      settings,
    }));
  return inOrder(request, { options, standard: { runs: found, notes: [] } });
}
