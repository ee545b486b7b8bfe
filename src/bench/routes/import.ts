import type { ImportOutcome } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";
import { importRequest, tableRequest } from "../import-request.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";
import { checkNewTrialName, trialsFolder } from "../project-path.ts";

/** Tables from elsewhere: readings into a trial, or a whole new trial; looked at first, then taken in. */
export const addImportRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.post("/api/trials/:name/import/preview", async (request) => {
    const asked = await jsonBody(request, importRequest);
    const trial = await openProjectTrial(root, request);
    const { importAnswer } = await import("../import-view.ts");
    return request.json(importAnswer(trial, asked));
  });

  bench.post("/api/trials/:name/import", async (request) => {
    const asked = await jsonBody(request, importRequest);
    const trial = await openProjectTrial(root, request);
    const [{ importAnswer, importOptions, sourceOf }, { commitImport, previewImport }] = await Promise.all([
      import("../import-view.ts"),
      import("../../store/index.ts"),
    ]);
    const outcome = await commitImport(previewImport(sourceOf(asked), trial, importOptions(asked)), {
      now: clock,
    });
    const told: ImportOutcome =
      outcome.kind === "asked"
        ? { kind: "asked", answer: importAnswer(trial, asked) }
        : { kind: "imported", trial: trial.name, readings: outcome.readings };
    return request.json(told);
  });

  bench.post("/api/tables/preview", async (request) => {
    const asked = await jsonBody(request, tableRequest);
    const { tableAnswer } = await import("../import-view.ts");
    return request.json(tableAnswer(asked));
  });

  bench.post("/api/tables", async (request) => {
    const asked = await jsonBody(request, tableRequest);
    checkNewTrialName(asked.name);
    const [{ tableOptions, tablePreviewAnswer, sourceOf }, { createTrialFromTable, trialFromTable }] =
      await Promise.all([import("../import-view.ts"), import("../../store/index.ts")]);
    const preview = trialFromTable(sourceOf(asked), tableOptions(asked));
    const outcome = await createTrialFromTable(trialsFolder(root), asked.name, preview, { now: clock });
    const told: ImportOutcome =
      outcome.kind === "asked"
        ? { kind: "asked", answer: tablePreviewAnswer(preview) }
        : { kind: "imported", trial: outcome.trial.name, readings: outcome.trial.readings.length };
    return request.json(told);
  });
};
