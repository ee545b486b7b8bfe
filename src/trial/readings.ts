import { convert, isUnit } from "../units/index.ts";
import { asGiven, trialError } from "./error.ts";
import { nearestName } from "./nearest-name.ts";
import type { Reading } from "./run.ts";
import type { Response, Trial, TrialSpec } from "./trial.ts";

/** The response with this name. Refused: a name that no response has, with the nearest one offered. */
export function responseNamed(spec: Pick<TrialSpec, "responses">, name: string): Response {
  const found = spec.responses.find((response) => response.name === name);
  if (found !== undefined) return found;
  const names = spec.responses.map((response) => response.name);
  const near = nearestName(name, names);
  const mend = near === null ? "Use one of these names." : `Did you mean "${near}"?`;
  const expected =
    names.length === 0 ? "a response of the trial, and it has none" : `one of ${names.join(", ")}`;
  throw trialError("", [{ path: "response", given: asGiven(name), expected, mend }]);
}

/**
 * The readings of one response that an analysis may use: voided ones left out, in the order in which they were taken, each
 * value converted exactly into the response's unit.
 *
 * @example readingsInUse(trial, "Ra")[0].unit // "µm"
 */
export function readingsInUse(trial: Pick<Trial, "spec" | "readings">, response: string): readonly Reading[] {
  const { name, unit } = responseNamed(trial.spec, response);
  return trial.readings.flatMap((reading) => {
    if (reading.response !== name || reading.void !== "") return [];
    if (reading.unit === unit) return [reading];
    if (isUnit(reading.unit))
      return [{ ...reading, value: convert(reading.value, reading.unit, unit), unit }];
    const path = `run ${reading.run}, ${name}`;
    throw trialError("readings.csv", [
      {
        path,
        given: asGiven(reading.unit),
        expected: `a unit such as ${unit}`,
        mend: "Mend the unit in readings.csv.",
      },
    ]);
  });
}
