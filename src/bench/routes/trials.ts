import { z } from "zod";
import type { TrialsAnswer } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { draftSchema } from "../draft.ts";
import { BenchError } from "../error.ts";
import { jsonBody } from "../json-request.ts";
import { trialFolderNames, trialsFolder } from "../project-path.ts";

const creation = z.strictObject({ draft: draftSchema });

/** The list of trials, and the making of a new one. */
export const addTrialRoutes: AddRoutes = (bench, { root, clock, signal, desk }) => {
  bench.get("/api/trials", async (request) => {
    const [{ listTrials }, { trialListing }] = await Promise.all([
      import("../../store/index.ts"),
      import("../trial-listing.ts"),
    ]);
    const answer: TrialsAnswer = { trials: (await listTrials(trialsFolder(root))).map(trialListing) };
    return request.json(answer);
  });

  bench.post("/api/trials", async (request) => {
    const { draft } = await jsonBody(request, creation);
    const [{ judgeDraft }, { specFromDraft }, { createTrial }, searches] = await Promise.all([
      import("../draft-answer.ts"),
      import("../draft-to-spec.ts"),
      import("../../store/index.ts"),
      desk(),
    ]);
    const wanted = specFromDraft(draft).spec;
    if (wanted !== null) await searches.prepare(wanted, signal);
    const { problems, spec, layout } = judgeDraft(draft, await trialFolderNames(root), searches.known);
    if (problems.length > 0 || spec === null || layout === null) {
      throw new BenchError(422, problems.map(({ message }) => message).join("\n"));
    }
    const { name } = await createTrial(trialsFolder(root), draft.name.trim(), spec, layout.runs, {
      now: clock,
    });
    return request.json({ name }, 201);
  });
};
