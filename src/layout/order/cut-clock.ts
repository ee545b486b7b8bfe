import type { PassConditions } from "../../cutting/index.ts";
import type { Settings } from "../../trial/index.ts";

/** What drift is measured in, and how long each run adds to it. */
export interface CutClock {
  readonly unit: "minutes" | "runs";
  /** Minutes of cut of a run, or 1 where runs are counted. */
  readonly of: (settings: Settings) => number;
  /** Minutes between two passes; they count for a shift, not for wear. */
  readonly minutesBetween: number;
  /** Why minutes can't be had; empty where they can. */
  readonly why: string;
}

/**
 * The clock by which an order is judged: minutes of cut where the trial states enough for every run, else run numbers, with
 * the reason.
 */
export function cutClock(
  runs: readonly { readonly settings: Settings }[],
  given: {
    readonly conditions?: ((settings: Settings) => PassConditions) | undefined;
    readonly minutesBetween?: number | undefined;
  },
): CutClock {
  const { conditions, minutesBetween = 0 } = given;
  const inRuns = (why: string): CutClock => ({ unit: "runs", of: () => 1, minutesBetween, why });
  if (!conditions) return inRuns("the trial does not state pass, cutter and speeds");
  const known = new Map<Settings, number>();
  for (const { settings } of runs) {
    const pass = conditions(settings);
    if (pass.minutes === null) {
      const why = pass.missing.find(({ what }) => what === "minutes")?.why ?? "";
      return inRuns(why === "" ? "the trial does not state pass, cutter and speeds" : decapitated(why));
    }
    known.set(settings, pass.minutes);
  }
  return {
    unit: "minutes",
    of: (settings) => known.get(settings) ?? conditions(settings).minutes ?? 0,
    minutesBetween,
    why: "",
  };
}

/** A sentence made part of another: its first letter small, its full stop gone. */
function decapitated(sentence: string): string {
  return (sentence.slice(0, 1).toLowerCase() + sentence.slice(1)).replace(/\.$/, "");
}

/** True where every run adds the same: then minutes and run numbers say the same of drift. */
export function isEven(durations: ArrayLike<number>): boolean {
  const [first = 0] = Array.from({ length: Math.min(1, durations.length) }, () => durations[0] ?? 0);
  for (let place = 1; place < durations.length; place += 1) {
    if (Math.abs((durations[place] ?? 0) - first) > 1e-9 * Math.abs(first)) return false;
  }
  return true;
}
