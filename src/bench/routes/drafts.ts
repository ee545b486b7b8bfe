import { z } from "zod";
import type { FormAnswer } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { draftSchema, outlookSchema } from "../draft.ts";
import { jsonBody } from "../json-request.ts";
import { trialFolderNames } from "../project-path.ts";

const draftRequest = z.strictObject({ draft: draftSchema, outlook: outlookSchema });

/** The form for a new trial: what it can hold, and what it would give. */
export const addDraftRoutes: AddRoutes = (bench, { root, clock, desk }) => {
  bench.get("/api/form", async (request) => {
    const [{ kinds }, { unitNames }, { emptyDraft }] = await Promise.all([
      import("../../layout/index.ts"),
      import("../../units/index.ts"),
      import("../empty-draft.ts"),
    ]);
    const answer: FormAnswer = {
      kinds: [...kinds.values()].map(({ kind, summary, known }) => ({ kind, summary, options: known })),
      units: unitNames,
      draft: emptyDraft(clock()),
      names: await trialFolderNames(root),
    };
    return request.json(answer);
  });

  bench.post("/api/drafts", async (request) => {
    const { draft, outlook } = await jsonBody(request, draftRequest);
    const [{ draftAnswer }, names, searches] = await Promise.all([
      import("../draft-answer.ts"),
      trialFolderNames(root),
      desk(),
    ]);
    return request.json(draftAnswer(draft, outlook, names, searches.known));
  });
};
