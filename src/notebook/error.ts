/** A notebook, its page or its run was asked for something that can't be done. */
export class NotebookError extends Error {
  override readonly name = "NotebookError";
}

/** The maker of this folder's errors: what was given, what was expected, how to mend it. */
export function notebookError(message: string, cause?: unknown): NotebookError {
  return new NotebookError(message, cause === undefined ? undefined : { cause });
}
