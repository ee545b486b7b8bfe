import { modelError } from "../error.ts";

/** Steps of the machine by factor; a factor without one can be set to anything. */
export type Increments = Readonly<Record<string, number>>;

/** The nearest settings that a machine can set. Refuses a step that is not above zero. */
export function settable(
  settings: Readonly<Record<string, number>>,
  increments: Increments,
): Readonly<Record<string, number>> {
  return Object.fromEntries(
    Object.entries(settings).map(([name, value]) => {
      if (!Object.hasOwn(increments, name)) return [name, value];
      const step = increments[name];
      if (!(step > 0 && Number.isFinite(step)))
        throw modelError(`an increment of ${step} for ${name}`, "a number above zero");
      // Twelve digits, so that 3 × 0.01 is 0.03.
      return [name, Number((Math.round(value / step) * step).toPrecision(12))];
    }),
  );
}
