/** A figure that can't be drawn as asked. The message says what was given, what was expected and how to mend it. */
export class FigureError extends Error {
  override readonly name = "FigureError";
}

/** The only maker of this folder's errors. */
export function figureError(parts: {
  readonly given: string;
  readonly expected: string;
  readonly mend: string;
}): FigureError {
  return new FigureError(`${parts.given}: expected ${parts.expected}. ${parts.mend}`);
}

/** Refuses a number that can't be placed on a scale, so that no figure ever holds one. */
export function requireFinite(value: number, what: string): number {
  if (Number.isFinite(value)) return value;
  throw figureError({
    given: `${what} is ${String(value)}`,
    expected: "a finite number",
    mend: "Void or correct the reading, or leave the run out, and draw again.",
  });
}
