/** A model that can't be fitted or asked as given: what was given, what was expected, how to mend it. */
export class ModelError extends Error {
  override readonly name = "ModelError";
}

/** The one maker of errors of this folder. Each part is a phrase; `mend` is a whole sentence, left out where it is plain. */
export function modelError(given: string, expected: string, mend = ""): ModelError {
  return new ModelError(`${given}; expected ${expected}.${mend === "" ? "" : ` ${mend}`}`);
}
