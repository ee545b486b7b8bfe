import { z } from "zod";
import type { Settings } from "../trial/index.ts";
import { RefusedError } from "./error.ts";

const oneSetting = z.record(z.string().min(1), z.union([z.number(), z.string()]));
const settingsOrList = z.union([oneSetting.transform((one) => [one]), z.array(oneSetting).min(1)]);

/** Settings typed as JSON, one set or a list; `name` says where they were typed. */
export function settingsFromJson(json: unknown, name: string): readonly Settings[] {
  const parsed = settingsOrList.safeParse(json);
  if (parsed.success) return parsed.data;
  throw new RefusedError(
    `${name}: got ${JSON.stringify(json)}; expected settings by factor, such as {"feed":0.15,"edge":"used"}, or a list of such.`,
    { cause: parsed.error },
  );
}
