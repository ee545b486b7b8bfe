import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { ImportAnswer, ImportOutcome, RunSheetAnswer, TrialsAnswer } from "../../src/bench/api.ts";
import { openTrial } from "../../src/store/index.ts";
import { benchUnderTest } from "./bench-under-test.ts";
import { answer, withTrial } from "./trial-under-test.ts";

const address = "/api/trials/seal-face/import";

const pasted = (text: string, part: object = {}) => ({
  source: { text },
  file: "",
  mapping: {},
  answers: {},
  force: "",
  ...part,
});

const semicolons = "run;spot;Ra [µm]\n1;1;0,82\n2;1;0,79\n3;1;0,81\n";

test("a pasted table is looked at first: columns, readings, nothing written", async () => {
  const { post, root } = await withTrial();
  const preview = await answer<ImportAnswer>(await post(`${address}/preview`, pasted(semicolons)));
  expect(preview).toMatchObject({ rows: 3, readings: 3, problems: [], questions: [] });
  expect(preview.columns.map(({ meaning }) => meaning)).toEqual(["run", "spot", "Ra"]);
  expect(preview.first.rows[0]).toEqual(["1", "Ra", "0.82 µm", "1", "1"]);
  expect((await openTrial(join(root, "experiments", "seal-face"))).readings).toHaveLength(0);
});

test("what was looked at is taken in whole", async () => {
  const { post, get } = await withTrial();
  const outcome = await answer<ImportOutcome>(await post(address, pasted(semicolons)));
  expect(outcome).toEqual({ kind: "imported", trial: "seal-face", readings: 3 });
  const sheet = await answer<RunSheetAnswer>(await get("/api/trials/seal-face/run-sheet"));
  expect(sheet.head.runsRead).toBe(3);
});

test("a column that nothing tells is asked about, and a choice of columns settles it", async () => {
  const { post } = await withTrial();
  const table = "run,Ra [µm],who\n1,0.82,ann\n2,0.79,bob\n";
  const asked = await answer<ImportAnswer>(await post(`${address}/preview`, pasted(table)));
  expect(asked.questions).toHaveLength(1);
  expect((await answer<ImportOutcome>(await post(address, pasted(table)))).kind).toBe("asked");
  const settled = pasted(table, { mapping: { who: "note" } });
  expect((await answer<ImportAnswer>(await post(`${address}/preview`, settled))).questions).toEqual([]);
  expect((await answer<ImportOutcome>(await post(address, settled))).kind).toBe("imported");
});

test("a slip of units is asked about by line, and the answer mends it", async () => {
  const { post, root } = await withTrial();
  const table = "run,Ra [µm]\n1,0.82\n2,0.79\n3,31\n4,0.8\n";
  const { questions } = await answer<ImportAnswer>(await post(`${address}/preview`, pasted(table)));
  expect(questions).toHaveLength(1);
  expect(questions[0]?.text).toContain("line 4");
  const mend = questions[0]?.choices.find(({ id }) => id.includes("µin"))?.id ?? "";
  const answers = { [questions[0]?.id ?? ""]: { choice: mend, note: "" } };
  const outcome = await answer<ImportOutcome>(await post(address, pasted(table, { answers })));
  expect(outcome.kind).toBe("imported");
  const { readings } = await openTrial(join(root, "experiments", "seal-face"));
  expect(readings[2]).toMatchObject({ value: 31, unit: "µin" });
});

test("a file is taken by its bytes, whatever its encoding", async () => {
  const { post } = await withTrial();
  // Latin-1, as older gauges write: the µ is one byte.
  const base64 = Buffer.from("run;Ra [\xb5m]\n1;0,82\n", "latin1").toString("base64");
  const body = { ...pasted(""), source: { base64 }, file: "gauge.csv" };
  const preview = await answer<ImportAnswer>(await post(`${address}/preview`, body));
  expect(preview).toMatchObject({ readings: 1, problems: [], questions: [] });
});

test("a table that can't be taken in is refused with its lines, and nothing is written", async () => {
  const { post, root } = await withTrial();
  const table = "run,Ra [µm]\n1,0.82\n99,0.79\n2,abc\n";
  const preview = await answer<ImportAnswer>(await post(`${address}/preview`, pasted(table)));
  expect(preview.problems.join("\n")).toContain("line 3");
  expect(preview.problems.join("\n")).toContain("line 4");
  expect((await post(address, pasted(table))).status).toBe(422);
  expect((await openTrial(join(root, "experiments", "seal-face"))).readings).toHaveLength(0);
});

test("a table with settings and readings becomes a trial of given runs", async () => {
  const { post, get, root } = await benchUnderTest();
  const table =
    "run,feed [mm/rev],edge,Ra [µm]\n1,0.1,fresh,0.5\n2,0.2,fresh,1.4\n3,0.1,used,0.6\n4,0.2,used,1.6\n5,0.1,fresh,0.52\n6,0.2,used,1.7\n";
  const about = {
    title: "Brought in",
    question: "",
    dataKind: "published",
    source: "a table",
    display: "metric",
  };
  const body = { ...pasted(table), name: "brought-in", surface: [], about };
  const preview = await answer<ImportAnswer>(await post("/api/tables/preview", body));
  expect(preview).toMatchObject({ runs: 6, readings: 6, problems: [], questions: [] });
  const outcome = await answer<ImportOutcome>(await post("/api/tables", body));
  expect(outcome).toEqual({ kind: "imported", trial: "brought-in", readings: 6 });
  const { trials } = await answer<TrialsAnswer>(await get("/api/trials"));
  expect(trials[0]).toMatchObject({
    name: "brought-in",
    title: "Brought in",
    dataKind: "published",
    runs: 6,
  });
  const json = await readFile(join(root, "experiments", "brought-in", "trial.json"), "utf8");
  expect(JSON.parse(json)).toMatchObject({ layout: { kind: "given" }, source: "a table" });
  expect((await post("/api/tables", { ...body, name: "../out" })).status).toBe(400);
  expect((await post("/api/tables", body)).status).toBe(422);
});
