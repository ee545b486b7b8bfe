import { checkLimits, LimitError } from "../layout/index.ts";
import type { Settings, Trial } from "../trial/index.ts";

/** Limits of a single run; those of the whole plan (stock, minutes, passes, edges) are looked at when the run is added. */
const limitsOfARun: readonly string[] = ["spindle", "cutter", "feed speed"];

/** A test of settings against the trial's stated speed limits: runs that a remark proposes must be fit to cut. */
export function withinLimits(trial: Trial | null): (settings: Settings) => boolean {
  return (settings) => {
    if (trial === null) return true;
    try {
      checkLimits(trial.spec, [{ run: 1, standard: 1, block: 1, role: "added", settings }]);
      return true;
    } catch (error) {
      if (!(error instanceof LimitError)) throw error;
      return !error.findings.some(({ limit }) => limitsOfARun.includes(limit));
    }
  };
}
