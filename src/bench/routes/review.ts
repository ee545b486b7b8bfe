import { z } from "zod";
import type { Context } from "hono";
import type { ReviewQuestion } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";

function questionIn(request: Context): ReviewQuestion {
  const {
    response = "",
    model = "",
    confidence = "",
    compare = "",
    control = "",
    margin = "",
  } = request.req.query();
  return { response, model, confidence, compare, control, margin };
}

/** What the readings of a trial show and can't show, and the note that somebody looked. */
export const addReviewRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.get("/api/trials/:name/review", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { reviewView } = await import("../review-view.ts");
    return request.json(reviewView(trial, questionIn(request), clock()));
  });

  bench.post("/api/trials/:name/review", async (request) => {
    const { note } = await jsonBody(request, z.strictObject({ note: z.string().max(2_000) }));
    const trial = await openProjectTrial(root, request);
    const { noteReview } = await import("../../store/index.ts");
    await noteReview(trial.folder, note, { now: clock });
    return request.json({});
  });
};
