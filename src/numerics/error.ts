/** A question to the numerics that can't be answered as asked: what was given, what was expected, how to mend it. */
export class NumericsError extends Error {
  override readonly name = "NumericsError";
}

/** The one maker of errors of this folder. Each part is a short phrase; `mend` may be left out where it is plain. */
export function numericsError(given: string, expected: string, mend = ""): NumericsError {
  return new NumericsError(`${given}; expected ${expected}.${mend === "" ? "" : ` ${mend}`}`);
}

/** Refuses NaN and the infinities by name, so that no verdict can rest on them. */
export function requireFinite(name: string, value: number): void {
  if (!Number.isFinite(value)) throw numericsError(`${name} is ${value}`, "a finite number");
}
