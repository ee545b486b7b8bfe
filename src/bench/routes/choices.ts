import { z } from "zod";
import type { ChoiceAnswer } from "../choice-api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { draftSchema, outlookSchema } from "../draft.ts";
import { BenchError } from "../error.ts";
import { jsonBody } from "../json-request.ts";

const asked = z.strictObject({ draft: draftSchema, outlook: outlookSchema });

const compared = asked.extend({
  layouts: z
    .array(z.strictObject({ title: z.string().max(300), layout: draftSchema.shape.layout }))
    .min(1)
    .max(2),
});

/** Layouts that fit the form's question side by side, and two of them beside each other. */
export const addChoiceRoutes: AddRoutes = (bench, { signal, desk }) => {
  bench.post("/api/choices", async (request) => {
    const { draft, outlook } = await jsonBody(request, asked);
    const [{ choiceAnswer }, { specFromDraft }] = await Promise.all([
      import("../choice-view.ts"),
      import("../draft-to-spec.ts"),
    ]);
    // What the form's own layout asks for is no matter while one is still to be chosen.
    const { seed = "" } = draft.layout.options;
    const layout = { kind: "factorial", options: { seed } };
    const { spec, problems } = specFromDraft({ ...draft, layout });
    const answer: ChoiceAnswer =
      spec === null
        ? { problems, candidates: [], figures: [], advice: [], instead: [], refused: [] }
        : choiceAnswer(spec, outlook);
    return request.json(answer);
  });

  bench.post("/api/comparisons", async (request) => {
    const { draft, outlook, layouts } = await jsonBody(request, compared);
    const [{ comparisonAnswer }, { specFromDraft }, searches] = await Promise.all([
      import("../comparison-view.ts"),
      import("../draft-to-spec.ts"),
      desk(),
    ]);
    const found = [];
    for (const { title, layout } of layouts) {
      const { spec, problems } = specFromDraft({ ...draft, layout });
      if (spec === null) throw new BenchError(422, problems.map(({ message }) => message).join("\n"));
      found.push({ title, spec, layout: await searches.layOut(spec, signal) });
    }
    return request.json(comparisonAnswer(found, outlook));
  });
};
