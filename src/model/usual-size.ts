import { modelError } from "./error.ts";

/** Within these powers of ten squares, or fourth powers, and sums of a hundred thousand of them are numbers; beyond they are nothing or without end. */
const usual = { squares: 151, "fourth powers": 75 } as const;

/** Refuses numbers whose squares (or fourth powers, where a variance has a variance) leave the range of numbers. Zeros alone are not refused here. */
export function requireUsualSize(
  values: Float64Array,
  what: string,
  needed: keyof typeof usual = "squares",
): void {
  let most = 0;
  for (const value of values) most = Math.max(most, Math.abs(value));
  if (most === 0 || Math.abs(Math.log10(most)) <= usual[needed]) return;
  throw modelError(
    `${what} of about 1e${Math.round(Math.log10(most))}, whose ${needed} are beyond the range of numbers`,
    "numbers of a usual size",
    `Give them in a ${most > 1 ? "larger" : "smaller"} unit.`,
  );
}

/** An answer on the response's own scale; refuses one that lies beyond the largest number, as a curve far outside of what was cut may. */
export function requireReached(values: readonly (number | null)[], what: string): void {
  if (values.every((value) => value === null || Number.isFinite(value))) return;
  throw modelError(
    `${what}, where the answer or an end of its interval is beyond the largest number`,
    "settings near to what was cut, and readings that lie within fewer powers of ten",
  );
}
