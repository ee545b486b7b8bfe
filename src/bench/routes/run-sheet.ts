import { z } from "zod";
import type { AddRoutes } from "../bench-context.ts";
import { jsonBody } from "../json-request.ts";
import { openProjectTrial } from "../open-project-trial.ts";

const text = z.string().max(2_000);
const count = z.int().min(1);

const voidRequest = z.strictObject({ run: count, response: text, spot: count, repeat: count, reason: text });
const asCutRequest = z.strictObject({ run: count, factor: text, value: text, reason: text });

/** The run sheet: what to cut, what was read, and what was cut otherwise. */
export const addRunSheetRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.get("/api/trials/:name/run-sheet", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { runSheetView } = await import("../run-sheet-view.ts");
    return request.json(runSheetView(trial, clock()));
  });

  bench.post("/api/trials/:name/readings", async (request) => {
    const { readingRequest, recordReading } = await import("../record-reading.ts");
    const asked = await jsonBody(request, readingRequest);
    const trial = await openProjectTrial(root, request);
    return request.json(await recordReading(trial, asked, clock));
  });

  bench.post("/api/trials/:name/voids", async (request) => {
    const { reason, ...key } = await jsonBody(request, voidRequest);
    const trial = await openProjectTrial(root, request);
    const { voidReading } = await import("../../store/index.ts");
    await voidReading(trial.folder, key, reason, { now: clock });
    return request.json({});
  });

  bench.post("/api/trials/:name/as-cut", async (request) => {
    const note = await jsonBody(request, asCutRequest);
    const trial = await openProjectTrial(root, request);
    const { noteAsCut } = await import("../../store/index.ts");
    await noteAsCut(trial.folder, [note], { now: clock });
    return request.json({});
  });
};
