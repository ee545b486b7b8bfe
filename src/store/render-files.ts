import type { TrialSpec } from "../trial/index.ts";
import { formatAsCut } from "./as-cut-file.ts";
import { plainDialect } from "./dialect.ts";
import { formatPlan } from "./plan-file.ts";
import { formatReadings } from "./readings-file.ts";
import type { State } from "./replay.ts";
import type { TrialFile } from "./trial-files.ts";

/** The text of one of the trial's files, as the state says that it should stand. */
export function renderFile(name: TrialFile, state: State, spec: TrialSpec): string {
  const dialect = state.files[name]?.dialect ?? plainDialect;
  switch (name) {
    case "trial.json":
      return state.specText;
    case "plan.csv":
      return formatPlan(spec, state.runs, dialect);
    case "as-cut.csv":
      return formatAsCut(state.asCut, dialect);
    case "readings.csv":
      return formatReadings(state.readings, dialect);
  }
}
