import type { Context } from "hono";
import type { TrialFolder } from "../store/index.ts";
import { trialPath } from "./project-path.ts";

/** The trial that a request names, after its name and place were checked. */
export async function openProjectTrial(root: string, request: Context): Promise<TrialFolder> {
  const folder = await trialPath(root, request.req.param("name") ?? "");
  const { openTrial } = await import("../store/index.ts");
  return openTrial(folder);
}
