import type { ContentfulStatusCode } from "hono/utils/http-status";

/** A request that the bench refuses: the status says whose turn it is, the message how to mend it. */
export class BenchError extends Error {
  override readonly name = "BenchError";
  readonly status: ContentfulStatusCode;

  constructor(status: ContentfulStatusCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.status = status;
  }
}

/** Faults of the program itself; every other error was made by a folder of the library and is meant to be read. */
const faults = new Set([
  "Error",
  "TypeError",
  "RangeError",
  "ReferenceError",
  "SyntaxError",
  "EvalError",
  "URIError",
]);

/** Whether this is a refusal with a message for the reader, rather than a fault of the program. */
export function isRefusal(error: unknown): error is Error {
  return error instanceof Error && !faults.has(error.name) && !("code" in error && "syscall" in error);
}

/** The status that an error is answered with. */
export function statusOf(error: unknown): ContentfulStatusCode {
  if (error instanceof BenchError) return error.status;
  return isRefusal(error) ? 422 : 500;
}

/** The message of an error, whole. */
export function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
