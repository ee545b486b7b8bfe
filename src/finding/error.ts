/** A trial can't be published, or a published page can't be read. */
export class FindingError extends Error {
  override readonly name = "FindingError";
}

/** The maker of this folder's errors: what was given, what was expected, how to mend it. */
export function findingError(message: string, cause?: unknown): FindingError {
  return new FindingError(message, cause === undefined ? undefined : { cause });
}
