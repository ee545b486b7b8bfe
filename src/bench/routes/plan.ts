import type { Context } from "hono";
import type { PlanAnswer } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { outlookSchema, type OutlookDraft } from "../draft.ts";
import { BenchError } from "../error.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";
import { z } from "zod";

const addition = z.strictObject({
  runs: z
    .array(z.record(z.string(), z.union([z.number(), z.string()])))
    .min(1)
    .max(1_000),
  /** "own": another day, edge or set-up, told apart from what was cut before; "last": as the last block goes on. */
  block: z.enum(["own", "last"]).default("own"),
});

function outlookIn(request: Context): OutlookDraft {
  const { sigma = "", effect = "", confidence = "95", model = "main" } = request.req.query();
  const read = outlookSchema.safeParse({ sigma, effect, confidence, model });
  if (!read.success)
    throw new BenchError(400, `model: got "${model}"; expected main, interactions or surface.`);
  return read.data;
}

/** A trial's plan: what is cut, what it costs, what it can tell; writing it, and adding runs to it. */
export const addPlanRoutes: AddRoutes = (bench, { root, clock, signal, desk }) => {
  bench.get("/api/trials/:name/plan", async (request) => {
    const outlook = outlookIn(request);
    const trial = await openProjectTrial(root, request);
    const [{ planView }, { trialHead }] = await Promise.all([
      import("../plan-view.ts"),
      import("../trial-head.ts"),
    ]);
    const answer: PlanAnswer = {
      head: trialHead(trial, clock()),
      plan: trial.runs.length === 0 ? null : planView(trial.spec, trial.runs, { outlook }),
      responseUnit: trial.spec.responses[0]?.unit ?? "",
    };
    return request.json(answer);
  });

  bench.post("/api/trials/:name/plan", async (request) => {
    await jsonBody(request, z.strictObject({}));
    const trial = await openProjectTrial(root, request);
    const [{ checkLimits }, { layOutTrial }, searches] = await Promise.all([
      import("../../layout/index.ts"),
      import("../../store/index.ts"),
      desk(),
    ]);
    const { runs } = await searches.layOut(trial.spec, signal);
    checkLimits(trial.spec, runs);
    await layOutTrial(trial.folder, runs, { now: clock });
    return request.json({ runs: runs.length }, 201);
  });

  bench.post("/api/trials/:name/runs", async (request) => {
    const { runs: settings, block: which } = await jsonBody(request, addition);
    const trial = await openProjectTrial(root, request);
    const [{ checkLimits }, { addRuns }] = await Promise.all([
      import("../../layout/index.ts"),
      import("../../store/index.ts"),
    ]);
    const last = Math.max(1, ...trial.runs.map((run) => run.block));
    const block = which === "last" ? last : last + 1;
    const added = settings.map((each, index) => ({
      run: trial.runs.length + index + 1,
      standard: trial.runs.length + index + 1,
      block,
      role: "added" as const,
      settings: each,
    }));
    checkLimits(trial.spec, [...trial.runs, ...added]);
    const { runs } = await addRuns(
      trial.folder,
      settings.map((each) => ({ settings: each, block })),
      { now: clock },
    );
    return request.json({ runs: runs.length }, 201);
  });
};
