import { passConditions } from "../../cutting/index.ts";
import type { Trial } from "../../trial/index.ts";
import type { Objective } from "./pass-score.ts";

/** What a recipe of a trial may push, the first unless another is named, and why it is not removal where it isn't. */
export interface Pushes {
  readonly pushes: readonly (readonly [value: string, text: string])[];
  readonly note: string;
}

/** What may be pushed: removal and the time of a pass where the trial states what they need, then each quantity by itself, the feed first. */
export function pushesOf({ spec, runs }: Pick<Trial, "spec" | "runs">): Pushes {
  const pass = passConditions(spec, runs[0]?.settings ?? {});
  const quantities = spec.factors.filter(({ kind }) => kind === "quantity").map(({ name }) => name);
  const feedFirst = [...quantities].sort((a, b) => Number(b === "feed") - Number(a === "feed"));
  const single = feedFirst.map((name) => [name, `The largest ${name}`] as const);
  const passes = [
    ...(pass.removalRateCm3PerMin === null ? [] : [["removal", "The most removal"] as const]),
    ...(pass.minutes === null ? [] : [["time", "The least time of a pass"] as const]),
  ];
  const why = pass.missing.find(({ what }) => what === "removalRateCm3PerMin")?.why ?? "";
  return {
    pushes: [...passes, ...single],
    note: passes.length > 0 ? "" : `Removal and time can't be told${why === "" ? "" : `: ${why}`}.`,
  };
}

/** What to push: what was asked if it may be, else the first that may; undefined where nothing may. */
export function pushOf(
  trial: Pick<Trial, "spec" | "runs">,
  asked: string | undefined,
): Objective | undefined {
  const { pushes } = pushesOf(trial);
  const value = pushes.find(([name]) => name === asked)?.[0] ?? pushes[0]?.[0];
  return value === undefined || value === "removal" || value === "time" ? value : { product: [value] };
}
