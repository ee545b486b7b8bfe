import type { Context } from "hono";
import type { z } from "zod";
import { BenchError } from "./error.ts";

/** Room for a pasted table of some hundred thousand readings; the body limit stops reading beyond it. */
export const largestBodyBytes = 32 * 1024 * 1024;

function wrongPlaces(error: z.ZodError): string {
  return error.issues
    .map((issue) => `${issue.path.length > 0 ? issue.path.join(".") : "body"}: ${issue.message}`)
    .join("; ");
}

/**
 * The checked JSON body of a request.
 * @param context the request
 * @param schema what it must be
 * @returns the value, with the schema's defaults
 * @throws BenchError 415 where it isn't sent as JSON, 400 where it can't be read or isn't as the schema says
 */
export async function jsonBody<Value>(context: Context, schema: z.ZodType<Value>): Promise<Value> {
  const type = context.req.header("content-type") ?? "";
  if (!/^application\/json\s*(;|$)/i.test(type)) {
    throw new BenchError(415, `The bench takes application/json, not "${type}".`);
  }
  let value: unknown;
  try {
    value = await context.req.json();
  } catch (error) {
    throw new BenchError(400, "The body can't be read as JSON.", { cause: error });
  }
  const result = schema.safeParse(value);
  if (!result.success) throw new BenchError(400, wrongPlaces(result.error));
  return result.data;
}
