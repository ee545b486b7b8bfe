import type { TrialSpec } from "../trial/index.ts";
import { parseQuantity, valueIn } from "../units/index.ts";
import type { PassConditions } from "./pass-conditions.ts";

/** A speed that a run must not pass, as the trial states it. */
export interface SpeedLimit {
  readonly limit: "spindle" | "cutter" | "feed speed";
  readonly words: string;
  /** As it was typed. */
  readonly text: string;
  readonly most: number;
  readonly unit: "rev/min" | "m/min" | "mm/min";
  /** Which of the pass's figures it holds for. */
  readonly field: "spindleSpeedRevPerMin" | "surfaceSpeedMPerMin" | "feedSpeedMmPerMin";
  readonly of: (pass: PassConditions) => number | null;
  readonly mend: string;
}

/** Settings that meet a limit to a part in a thousand million are on it. */
export const SPEED_SLACK = 1e-9;

/**
 * The limits of spindle, cutter and feed speed that a trial states, each with the figure of a pass that it holds for. A cutter's limit in m/min or ft/min is one of
 * its surface speed. Refuses a limit that is no quantity of its kind.
 *
 * @example speedLimits(spec)[0].most // 6000
 */
export function speedLimits(spec: TrialSpec): readonly SpeedLimit[] {
  const { machine, cutter } = spec;
  const made = (
    limit: SpeedLimit["limit"],
    words: string,
    text: string | undefined,
    unit: SpeedLimit["unit"],
    field: SpeedLimit["field"],
    mend: string,
  ): readonly SpeedLimit[] =>
    text === undefined
      ? []
      : [
          {
            limit,
            words,
            text,
            unit,
            most: valueIn(parseQuantity(text, { unit }), unit),
            field,
            of: (pass) => pass[field],
            mend,
          },
        ];
  const rim =
    cutter?.maxSpeed !== undefined && /m\/(min|s)|ft/i.test(cutter.maxSpeed) && !/rev/i.test(cutter.maxSpeed);
  const lower = "Lower the speed";
  return [
    ...made("spindle", "spindle limit", machine?.maxSpeed, "rev/min", "spindleSpeedRevPerMin", lower),
    ...(rim
      ? made("cutter", "cutter limit", cutter.maxSpeed, "m/min", "surfaceSpeedMPerMin", lower)
      : made("cutter", "cutter limit", cutter?.maxSpeed, "rev/min", "spindleSpeedRevPerMin", lower)),
    ...made(
      "feed speed",
      "feed limit",
      machine?.maxFeedSpeed,
      "mm/min",
      "feedSpeedMmPerMin",
      "Lower the feed or the speed",
    ),
  ];
}
