/** A model that can't be fitted or asked as given: what was given, what was expected, how to mend it. */
export class ModelError extends Error {
  override readonly name = "ModelError";
}

/** The one maker of errors of this folder. Each part is a phrase; `mend` is a whole sentence, left out where it is plain. */
export function modelError(given: string, expected: string, mend = ""): ModelError {
  return new ModelError(`${given}; expected ${expected}.${mend === "" ? "" : ` ${mend}`}`);
}

/** "a", "a and b", "a, b and c". */
export function listed(names: readonly string[], word: "and" | "or" = "and"): string {
  if (names.length < 2) return names.join("");
  return `${names.slice(0, -1).join(", ")} ${word} ${names.at(-1)!}`;
}
