import type { Growth } from "../layout/index.ts";
import { addRuns } from "./change-plan.ts";
import type { TrialFolder } from "./open-trial.ts";
import type { ChangeOptions } from "./settle.ts";

/**
 * Adds the runs of a growth to the trial that it was made for: one change of the journal, the plan written whole. The journal keeps how
 * the runs were chosen, and how many readings stood at the time. Refused: a trial whose plan has changed since the growth was made.
 *
 * @example await addGrowth(trial.folder, grow(trial, { by: "fold" }))
 */
export async function addGrowth(
  folder: string,
  growth: Growth,
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  const { by, how, runs, brings } = growth;
  const settings = Object.fromEntries(Object.entries(how).filter(([name]) => name !== "by"));
  return addRuns(folder, runs, {
    ...options,
    onto: (runs[0]?.run ?? 1) - 1,
    how: { by, options: settings, says: brings },
  });
}
