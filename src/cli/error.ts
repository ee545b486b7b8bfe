/** The call's own words are wrong: exit code 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

/** The call is understood and refused: exit code 1. */
export class RefusedError extends Error {
  override readonly name = "RefusedError";
}
