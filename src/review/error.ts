/** A review was asked for something that the trial doesn't have. */
export class ReviewError extends Error {
  override readonly name = "ReviewError";
}
