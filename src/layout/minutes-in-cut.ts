import { passConditionsOf } from "../cutting/index.ts";
import type { Run, TrialSpec } from "../trial/index.ts";

/** Minutes in cut, run by run, or the reason why they can't be reckoned. */
export type MinutesInCut =
  | { readonly kind: "known"; readonly minutes: readonly number[] }
  | { readonly kind: "unknown"; readonly reason: string };

/**
 * Minutes that each run is in cut, in the order given, as far as the trial states what is cut with (length of pass, feed, speed).
 * Use it to judge a layout against wear, which goes by minutes of cut and not by the number of runs. What can't be reckoned for one
 * run is not known for any: the reason says what to state.
 * Example: two passes of 180 mm at 180 and 90 mm/min, no approach: [1, 2].
 */
export function minutesInCut(
  spec: Pick<TrialSpec, "factors"> & Partial<TrialSpec>,
  runs: readonly Pick<Run, "settings">[],
): MinutesInCut {
  if (!spec.pass) {
    return { kind: "unknown", reason: 'Wants the length of a pass, such as "pass": { "length": "180 mm" }.' };
  }
  // Only factors and what is cut with are read; the rest of the trial plays no part in it.
  const conditions = passConditionsOf({ held: {}, ...spec } as TrialSpec);
  const minutes: number[] = [];
  for (const run of runs) {
    const pass = conditions(run.settings);
    if (pass.minutes === null) {
      const why = pass.missing.find(({ what }) => what === "minutes")?.why;
      return { kind: "unknown", reason: why ?? "The settings of a run do not say how long it is in cut." };
    }
    minutes.push(pass.minutes);
  }
  return { kind: "known", minutes };
}

/** Minutes of cut behind the edge when half of each run was done, by run number, runs in cutting order; or why they can't be reckoned. */
export function minutesBehind(
  spec: Pick<TrialSpec, "factors"> & Partial<TrialSpec>,
  runs: readonly Pick<Run, "run" | "settings">[],
):
  | { readonly kind: "known"; readonly behind: ReadonlyMap<number, number> }
  | Extract<MinutesInCut, { kind: "unknown" }> {
  const inOrder = [...runs].sort((a, b) => a.run - b.run);
  const told = minutesInCut(spec, inOrder);
  if (told.kind === "unknown") return told;
  let before = 0;
  const behind = new Map(
    inOrder.map(({ run }, i) => {
      before += told.minutes[i];
      return [run, before - told.minutes[i] / 2];
    }),
  );
  return { kind: "known", behind };
}
