import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { eventStream } from "../event-stream.ts";
import { trialPath, trialsFolder } from "../project-path.ts";
import { watchFolders } from "../watch-files.ts";
import type { AddRoutes } from "../bench-context.ts";

/** The list of trials watches every trial's folder, as far as a system lets one program watch. */
const mostWatched = 500;

async function foldersToWatch(root: string, trial: string | undefined): Promise<readonly string[]> {
  if (trial !== undefined && trial !== "") return [await trialPath(root, trial)];
  const folder = trialsFolder(root);
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const inside = entries.filter((entry) => entry.isDirectory()).map((entry) => join(folder, entry.name));
  return [folder, ...inside.slice(0, mostWatched)];
}

/** Tells a page when the files that it shows were changed, by the bench or by anything else. */
export const addChangeRoutes: AddRoutes = (bench, { root, signal }) => {
  bench.get("/api/live/changes", async (request) => {
    const folders = await foldersToWatch(root, request.req.query("trial"));
    return eventStream(request, signal, (tell) =>
      watchFolders(folders, () => tell({ event: "changed", data: {} })),
    );
  });
};
