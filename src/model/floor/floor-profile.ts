import { tQuantile, type NonlinearFit } from "../../numerics/index.ts";
import type { ProfileInterval } from "../curve/profile-interval.ts";
import { profileTrace, type ParameterProfile } from "../curve/profile-trace.ts";
import type { FitInput } from "../fit-options.ts";
import type { Observations } from "../observations.ts";
import { floorModel, floorOf, type FloorForm, type LawPart } from "./floor-model.ts";
import type { FloorData } from "./search-floor.ts";
import type { WithoutFloor } from "./without-floor.ts";

/** A floor that a search settled on, with what it was found from. */
export interface Found {
  readonly fit: NonlinearFit;
  readonly form: FloorForm;
  readonly input: FitInput;
  readonly observations: Observations;
  readonly parts: readonly LawPart[];
  readonly data: FloorData;
  readonly unit: number;
  readonly plain: WithoutFloor | null;
}

/** Beyond the interval's ends the profile is drawn by this share of its width. */
const beyond = 0.3;

/** The profile of the floor in the response's unit, from 0 on: a share below zero is no floor. */
export function floorProfile(found: Found, { low, high }: ProfileInterval): ParameterProfile | null {
  const { fit, form, data, unit, observations, input } = found;
  const [share] = fit.parameters;
  if (low === null || high === null || !(high > low) || !(share > 0)) return null;
  const room = beyond * (high - low);
  const points = profileTrace(floorModel(form, data.columns, data.response.length), data.response, fit, {
    parameter: 0,
    low: Math.max(0, low - room),
    high: high + room,
    linear: [],
    weights: data.weights,
  });
  const { name, unit: responseUnit } = observations.response;
  return {
    name: `floor of ${name}`,
    unit: responseUnit,
    estimate: floorOf(form, share, unit),
    low: floorOf(form, low, unit),
    high: floorOf(form, high, unit),
    confidence: input.confidence,
    limit: tQuantile((1 + input.confidence) / 2, fit.df),
    points: points.map(({ value, root }) => ({ value: floorOf(form, value, unit), root })),
  };
}
