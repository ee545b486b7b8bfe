import { stream } from "hono/streaming";
import { z } from "zod";
import type { SearchTold } from "../choice-api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { draftSchema } from "../draft.ts";
import { BenchError } from "../error.ts";
import { jsonBody } from "../json-request.ts";
import { trialPath } from "../project-path.ts";

const name = z.string().min(1).max(80);
const asked = z.union([
  z.strictObject({ search: name, draft: draftSchema }),
  z.strictObject({ search: name, trial: z.string().max(200) }),
]);

/** Progress is told so often at most: more can't be read. */
const pauseMs = 100;

/** Searching for runs: told while it goes on, one line of JSON at a time, and ended with the best so far when asked. */
export const addSearchRoutes: AddRoutes = (bench, { root, signal, desk }) => {
  bench.post("/api/searches", async (request) => {
    const body = await jsonBody(request, asked);
    const [spec, searches] = await Promise.all([specOf(root, body), desk()]);
    const gone = new AbortController();
    const ended = AbortSignal.any([signal, gone.signal]);
    return stream(
      request,
      async (out) => {
        out.onAbort(() => gone.abort());
        let last = 0;
        let queue = Promise.resolve();
        const tell = (told: SearchTold) => {
          queue = queue
            .then(async () => void (await out.write(`${JSON.stringify(told)}\n`)))
            .catch(() => undefined);
        };
        await searches.search(body.search, spec, {
          signal: ended,
          onProgress: (progress) => {
            const now = performance.now();
            if (now - last < pauseMs && progress.startsDone < progress.starts) return;
            last = now;
            const { starts, startsDone, text } = progress;
            tell({ kind: "under-way", starts, startsDone, text });
          },
        });
        tell({ kind: "done" });
        await queue;
      },
      async (error, out) => {
        await out.write(
          `${JSON.stringify({ kind: "failed", message: error.message } satisfies SearchTold)}\n`,
        );
      },
    );
  });

  bench.post("/api/searches/stop", async (request) => {
    const { search } = await jsonBody(request, z.strictObject({ search: name }));
    (await desk()).stop(search);
    return request.json({});
  });
};

async function specOf(root: string, body: z.output<typeof asked>) {
  if ("trial" in body) {
    const { openTrial } = await import("../../store/index.ts");
    return (await openTrial(await trialPath(root, body.trial))).spec;
  }
  const { specFromDraft } = await import("../draft-to-spec.ts");
  const { spec, problems } = specFromDraft(body.draft);
  if (spec === null) throw new BenchError(422, problems.map(({ message }) => message).join("\n"));
  return spec;
}
