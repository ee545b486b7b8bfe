import { z } from "zod";
import type { Term } from "../model/index.ts";
import { RefusedError } from "./error.ts";

const termList = z.array(z.record(z.string().min(1), z.int().min(1).max(100)));

/** Terms typed as JSON, such as [{"feed":1},{"feed":2},{"feed":1,"speed":1}]; `name` says where they were typed. */
export function termsFromJson(json: unknown, name: string): readonly Term[] {
  const parsed = termList.safeParse(json);
  if (parsed.success) return parsed.data;
  throw new RefusedError(
    `${name}: got ${JSON.stringify(json)}; expected a list of terms, each naming factors with their degree, such as [{"feed":1},{"feed":2},{"feed":1,"speed":1}].`,
    { cause: parsed.error },
  );
}
