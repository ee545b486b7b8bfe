import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";
import type { FindingAnswer, PublishedView } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { BenchError } from "../error.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";
import type { TrialFolder } from "../../store/index.ts";

const folderName = "finding";
const pageName = "index.html";

/**
 * The published page runs no script and loads nothing: it is shown in a frame of the bench, and nowhere else. Its own policy allows its own style.
 */
const pageHeaders = {
  "Content-Type": "text/html; charset=utf-8",
  "Content-Security-Policy":
    "sandbox allow-downloads; default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'",
  "X-Frame-Options": "SAMEORIGIN",
};

async function fileOf(trial: TrialFolder, name: string): Promise<Buffer> {
  try {
    return await readFile(join(trial.folder, folderName, name));
  } catch (error) {
    throw new BenchError(404, `${trial.name} has no ${folderName}/${name} yet. Publish it first.`, {
      cause: error,
    });
  }
}

async function publishedView(trial: TrialFolder): Promise<PublishedView | null> {
  const html = await fileOf(trial, pageName).catch(() => null);
  if (html === null) return null;
  const { extractData } = await import("../../finding/index.ts");
  const { checksum } = extractData(html.toString("utf8"));
  const { mtime } = await stat(join(trial.folder, folderName, pageName));
  const within = `experiments/${trial.name}/${folderName}`;
  return {
    page: `${within}/${pageName}`,
    package: `${within}/${trial.name}.zip`,
    date: mtime.toISOString().slice(0, 10),
    checksum,
    outdated: checksum !== trial.checksum,
  };
}

/** What is published of a trial: the page shown, the page and the package as files, and publishing it. */
export const addFindingRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.get("/api/trials/:name/finding", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { trialHead } = await import("../trial-head.ts");
    const read = trial.readings.some((reading) => reading.void === "");
    const answer: FindingAnswer = {
      head: trialHead(trial, clock()),
      published: await publishedView(trial),
      refusal: read
        ? ""
        : "There is nothing to publish yet: no reading is in use. Fill in the run sheet first.",
    };
    return request.json(answer);
  });

  bench.post("/api/trials/:name/finding", async (request) => {
    await jsonBody(request, z.strictObject({}));
    const trial = await openProjectTrial(root, request);
    const [{ publish, writeFinding }, { notePublished }] = await Promise.all([
      import("../../finding/index.ts"),
      import("../../store/index.ts"),
    ]);
    await writeFinding(trial.folder, publish(trial, { date: clock().toISOString().slice(0, 10) }));
    await notePublished(trial.folder, `${folderName}/${pageName}`, { now: clock });
    return request.json({}, 201);
  });

  bench.get("/api/trials/:name/finding/page", async (request) => {
    const trial = await openProjectTrial(root, request);
    const html = await fileOf(trial, pageName);
    const asFile = request.req.query("as") === "file";
    return request.body(new Uint8Array(html), 200, {
      ...pageHeaders,
      ...(asFile ? { "Content-Disposition": `attachment; filename="${trial.name}.html"` } : {}),
    });
  });

  bench.get("/api/trials/:name/finding/package", async (request) => {
    const trial = await openProjectTrial(root, request);
    return request.body(new Uint8Array(await fileOf(trial, `${trial.name}.zip`)), 200, {
      "Content-Type": "application/zip",
      "Content-Disposition": `attachment; filename="${trial.name}.zip"`,
    });
  });
};
