import { z } from "zod";
import type { AddRoutes } from "../bench-context.ts";
import { BenchError } from "../error.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";

/** Loaded when it is asked for: it reads what fits and figures are made of, which the list of trials does not wait for. */
async function forms() {
  const { growthForm } = await import("../growth-form.ts");
  const addition = z.strictObject({
    form: growthForm,
    /** How many runs the plan had when the addition was shown. */
    onto: z.int().min(0),
  });
  return { growthForm, addition };
}

/** Carrying a trial on: what can be grown, what it would bring, and adding the runs that were shown. */
export const addGrowingRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.get("/api/trials/:name/growth", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { growthAnswer } = await import("../growth-view.ts");
    return request.json(growthAnswer(trial, clock()));
  });

  bench.post("/api/trials/:name/growth", async (request) => {
    const form = await jsonBody(request, (await forms()).growthForm);
    const trial = await openProjectTrial(root, request);
    const { growthPreview } = await import("../growth-view.ts");
    return request.json(growthPreview(trial, form));
  });

  bench.post("/api/trials/:name/growth/runs", async (request) => {
    const { form, onto } = await jsonBody(request, (await forms()).addition);
    const trial = await openProjectTrial(root, request);
    if (trial.runs.length !== onto) {
      throw new BenchError(
        409,
        `The plan has ${trial.runs.length} runs, and had ${onto} when these were shown: somebody has changed it since. Look again at what would be added.`,
      );
    }
    const [{ growthOf }, { addGrowth }] = await Promise.all([
      import("../growth-view.ts"),
      import("../../store/index.ts"),
    ]);
    const { growth } = growthOf(trial, form);
    await addGrowth(trial.folder, growth, { now: clock });
    return request.json({ added: growth.runs.length }, 201);
  });
};
