import type { Term } from "../model/index.ts";
import type { Factor, Run } from "../trial/index.ts";
import { termColumns } from "./coded-columns.ts";
import { correlationOf, standardised } from "./judge/correlation.ts";

/**
 * How strongly each term moves with cutting order, −1 to 1: what steady wear or warm-up would do to it.
 *
 * Use it on a plan, or on runs as they were cut. `runs` are in cutting order; `terms` defaults to the main effect of every
 * factor. With `minutes` in cut of each run, wear goes by these and not by the number of runs. Returns one entry a term (a category: one a level, against the first). A term that never moves has 0.
 * Example: feed cut in rising order gives 1.
 */
export function correlationWithOrder(
  runs: readonly Pick<Run, "settings">[],
  factors: readonly Factor[],
  options: { readonly terms?: readonly Term[]; readonly minutes?: readonly number[] } = {},
): readonly { readonly term: Term; readonly label: string; readonly correlation: number }[] {
  const { minutes = runs.map(() => 1), terms = factors.map((factor): Term => ({ [factor.name]: 1 })) } =
    options;
  let soFar = 0;
  // The middle of each run, as wear goes on while it is cut.
  const order = standardised(
    Float64Array.from(runs, (_, index) => {
      const own = minutes[index] ?? 1;
      soFar += own;
      return soFar - own / 2;
    }),
  );
  return terms.flatMap((term) =>
    termColumns(
      factors,
      term,
      runs.map((run) => run.settings),
    ).estimands.map((estimand) => ({
      term: estimand.term,
      label: estimand.label,
      correlation: correlationOf(standardised(estimand.contrast), order),
    })),
  );
}
