import { z } from "zod";
import type { AddRoutes } from "../bench-context.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";

/** Empty texts and models that are left out stand for what the library would choose. */
const publication = z.strictObject({
  confidence: z.string().max(100).default(""),
  /** What is asked of the recipe, by the name of its field, as the review's panel takes it. */
  recipe: z.record(z.string().max(250), z.string().max(200)).default({}),
  models: z
    .record(z.string().max(200), z.enum(["power-law", "bent-power-law", "main", "interactions", "surface"]))
    .default({}),
});

/**
 * The published page runs no script and loads nothing: it is shown in a frame of the bench, and nowhere else. Its own policy
 * allows its own style.
 */
const pageHeaders = {
  "Content-Type": "text/html; charset=utf-8",
  "Content-Security-Policy":
    "sandbox allow-downloads; default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'",
  "X-Frame-Options": "SAMEORIGIN",
};

/** Names of folders may hold letters that a plain header can't. */
function attachment(name: string): { readonly "Content-Disposition": string } {
  return { "Content-Disposition": `attachment; filename*=UTF-8''${encodeURIComponent(name)}` };
}

/** What is published of a trial: the page shown, the page and the package as files, and publishing it. */
export const addFindingRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.get("/api/trials/:name/finding", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { findingAnswer } = await import("../published-files.ts");
    return request.json(await findingAnswer(trial, clock()));
  });

  bench.post("/api/trials/:name/finding", async (request) => {
    const { confidence, recipe, models } = await jsonBody(request, publication);
    const trial = await openProjectTrial(root, request);
    const [
      { publish, writeFinding },
      { notePublished },
      { findingAnswer, pagePath },
      { confidenceFrom },
      { recipeTyped },
    ] = await Promise.all([
      import("../../finding/index.ts"),
      import("../../store/index.ts"),
      import("../published-files.ts"),
      import("../outlook-view.ts"),
      import("../recipe-question.ts"),
    ]);
    const finding = publish(trial, {
      date: clock().toISOString().slice(0, 10),
      confidence: confidenceFrom(confidence),
      recipe: recipeTyped(trial, recipe),
      models,
    });
    await writeFinding(trial.folder, finding);
    await notePublished(trial.folder, pagePath, { now: clock });
    return request.json(await findingAnswer(trial, clock()), 201);
  });

  bench.get("/api/trials/:name/finding/page", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { pagePath, publishedFile } = await import("../published-files.ts");
    const asFile = request.req.query("as") === "file";
    return request.body(await publishedFile(trial, pagePath), 200, {
      ...pageHeaders,
      ...(asFile ? attachment(`${trial.name}.html`) : {}),
    });
  });

  bench.get("/api/trials/:name/finding/package", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { packagePath, publishedFile } = await import("../published-files.ts");
    return request.body(await publishedFile(trial, packagePath(trial)), 200, {
      "Content-Type": "application/zip",
      ...attachment(`${trial.name}.zip`),
    });
  });
};
