import { readFile, symlink, mkdtemp, writeFile, mkdir } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import type {
  DraftAnswer,
  FormAnswer,
  PlanAnswer,
  RecordAnswer,
  RunSheetAnswer,
  TrialsAnswer,
} from "../../src/bench/api.ts";
import { createTrial, openTrial } from "../../src/store/index.ts";
import { layOut } from "../../src/layout/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { benchUnderTest } from "./bench-under-test.ts";
import { answer, trialJson, withTrial } from "./trial-under-test.ts";

const at = (run: number, part: object = {}) => ({
  run,
  response: "Ra",
  spot: 1,
  repeat: 1,
  typed: "0.8",
  note: "",
  answers: {},
  ...part,
});

test("a new trial goes from the form to its folder, and the list says what to do next", async () => {
  const { get, post, root } = await benchUnderTest();
  const { draft } = await answer<FormAnswer>(await get("/api/form"));
  const filled = {
    ...draft,
    name: "seal-face",
    title: "Seal face",
    factors: [{ kind: "category", name: "edge", levels: "fresh, used", change: "easy", today: "" }],
  };
  const outlook = { sigma: "", effect: "", confidence: "95", model: "main" };
  const said = await answer<DraftAnswer>(await post("/api/drafts", { draft: filled, outlook }));
  expect(said.problems).toEqual([]);
  const made = await post("/api/trials", { draft: filled });
  expect(made.status).toBe(201);
  expect(await made.json()).toEqual({ name: "seal-face" });
  const { trials } = await answer<TrialsAnswer>(await get("/api/trials"));
  expect(trials).toMatchObject([
    { name: "seal-face", runs: 4, runsRead: 0, next: { sheet: "run-sheet", text: "Cut 4 runs" } },
  ]);
  expect(await readFile(join(root, "experiments", "seal-face", "trial.json"), "utf8")).toContain(
    '"Seal face"',
  );
  const again = await post("/api/trials", { draft: filled });
  expect(again.status).toBe(422);
});

test("a trial that can't be opened stands in the list with its reason and keeps no other from it", async () => {
  const { get, root } = await withTrial();
  await mkdir(join(root, "experiments", "broken"));
  await writeFile(join(root, "experiments", "broken", "trial.json"), '{ "factors": 3 }');
  const { trials } = await answer<TrialsAnswer>(await get("/api/trials"));
  expect(trials.map(({ name }) => name)).toEqual(["broken", "seal-face"]);
  expect(trials[0]?.problem).toContain("factors");
  const opened = await get("/api/trials/broken/plan");
  expect(opened.status).toBe(422);
  expect((await answer<{ error: string }>(opened)).error).toContain("factors");
});

test("the plan shows runs, order rules, cost, cautions, figures and what it can see", async () => {
  const { get } = await withTrial();
  const { plan, head } = await answer<PlanAnswer>(
    await get("/api/trials/seal-face/plan?sigma=0.1&effect=0.2"),
  );
  expect(head).toMatchObject({
    title: "Pump cover, sealing face",
    dataKind: "invented",
    runs: 8,
    runsRead: 0,
  });
  expect(plan?.runs).toHaveLength(8);
  expect(plan?.runs[0]?.settings).toHaveLength(2);
  expect(plan?.orderRules.length).toBeGreaterThan(0);
  expect(plan?.cautions.length).toBeGreaterThan(0);
  expect(plan?.figures).toHaveLength(3); // the runs, their order, and how well a slice is known
  for (const html of plan?.figures ?? []) expect(html).toMatch(/<svg[^>]*role="img"/);
  expect(plan?.outlook).toMatchObject({ rows: [{ halfWidth: "± 0.18 µm" }, { halfWidth: "± 0.18 µm" }] });
});

test("figures carry no style that the bench's own policy would refuse", async () => {
  const { get } = await withTrial();
  const { plan } = await answer<PlanAnswer>(await get("/api/trials/seal-face/plan"));
  for (const html of plan?.figures ?? []) expect(html).not.toMatch(/<style|\sstyle=|<script|\son\w+=/);
});

test("a reading is saved in the journal before the answer says so", async () => {
  const { post, root } = await withTrial();
  const said = await answer<RecordAnswer>(
    await post("/api/trials/seal-face/readings", at(3, { typed: "0,82" })),
  );
  expect(said).toMatchObject({ kind: "saved", reading: { run: 3, text: "0.82 µm", repeat: 1, void: "" } });
  const journal = await readFile(join(root, "experiments", "seal-face", "journal.ndjson"), "utf8");
  expect(journal.trim().split("\n").at(-1)).toContain("recorded");
});

test("the same reading sent again after a lost answer is saved once", async () => {
  const { post, root } = await withTrial();
  for (const typed of ["31 µin", "31 uin"]) {
    const said = await answer<RecordAnswer>(await post("/api/trials/seal-face/readings", at(1, { typed })));
    expect(said).toMatchObject({ kind: "saved", reading: { text: "31 µin (0.787 µm)" } });
  }
  const { readings } = await openTrial(join(root, "experiments", "seal-face"));
  expect(readings).toHaveLength(1);
});

test("another value in a place that is taken is refused, and the one that is there is named", async () => {
  const { post } = await withTrial();
  await post("/api/trials/seal-face/readings", at(1, { typed: "0.79" }));
  const second = await post("/api/trials/seal-face/readings", at(1, { typed: "0.81" }));
  expect(second.status).toBe(409);
  expect((await answer<{ error: string }>(second)).error).toContain("0.79 µm was recorded here meanwhile");
});

test("a slip of units is asked about, nothing is written before, and the answer mends it", async () => {
  const { post, root } = await withTrial();
  for (const run of [1, 2, 3]) await post("/api/trials/seal-face/readings", at(run, { typed: `0.8${run}` }));
  const asked = await answer<RecordAnswer>(
    await post("/api/trials/seal-face/readings", at(4, { typed: "31" })),
  );
  if (asked.kind !== "asked") throw new Error(`expected a question, got ${asked.kind}`);
  expect(asked.questions[0]?.text).toContain("µin");
  const count = async () => (await openTrial(join(root, "experiments", "seal-face"))).readings.length;
  expect(await count()).toBe(3);
  const [question] = asked.questions;
  const mend = question?.choices.find(({ id }) => id.includes("µin"));
  const answers = { [question?.id ?? ""]: { choice: mend?.id ?? "", note: "" } };
  const saved = await answer<RecordAnswer>(
    await post("/api/trials/seal-face/readings", at(4, { typed: "31", answers })),
  );
  expect(saved).toMatchObject({ kind: "saved", reading: { text: "31 µin (0.787 µm)" } });
  expect(await count()).toBe(4);
});

test("a number that can be read in two ways is asked about with both", async () => {
  const { post } = await withTrial();
  const asked = await answer<RecordAnswer>(
    await post("/api/trials/seal-face/readings", at(1, { typed: "1,000" })),
  );
  if (asked.kind !== "asked") throw new Error(`expected a question, got ${asked.kind}`);
  const choices = asked.questions[0]?.choices ?? [];
  expect(choices).toHaveLength(2);
  const answers = { typed: { choice: choices[0]?.id ?? "", note: "" } };
  const saved = await answer<RecordAnswer>(
    await post("/api/trials/seal-face/readings", at(1, { typed: "1,000", answers })),
  );
  expect(saved.kind).toBe("saved");
});

test("what is no reading is refused in the library's own words", async () => {
  const { post } = await withTrial();
  for (const typed of ["abc", "0.8 rev/min", "NaN", "Infinity", "<script>", ""]) {
    const refused = await post("/api/trials/seal-face/readings", at(1, { typed }));
    expect(refused.status, typed).toBe(422);
    expect((await answer<{ error: string }>(refused)).error.length, typed).toBeGreaterThan(20);
  }
  expect((await post("/api/trials/seal-face/readings", at(99))).status).toBe(422);
  expect((await post("/api/trials/seal-face/readings", at(1, { response: "Rx" }))).status).toBe(422);
  expect((await post("/api/trials/seal-face/readings", at(0))).status).toBe(400);
  expect((await post("/api/trials/seal-face/readings", { ...at(1), more: 1 })).status).toBe(400);
});

test("a reading is voided with its reason, and not without", async () => {
  const { get, post } = await withTrial();
  await post("/api/trials/seal-face/readings", at(2));
  const key = { run: 2, response: "Ra", spot: 1, repeat: 1 };
  expect((await post("/api/trials/seal-face/voids", { ...key, reason: " " })).status).toBe(422);
  expect((await post("/api/trials/seal-face/voids", { ...key, reason: "trace on a burr" })).status).toBe(200);
  const sheet = await answer<RunSheetAnswer>(await get("/api/trials/seal-face/run-sheet"));
  expect(sheet.runs[1]?.readings).toMatchObject([{ text: "0.8 µm", void: "trace on a burr" }]);
  expect(sheet.head.runsRead).toBe(0);
});

test("a run that was cut otherwise shows both settings and the reason", async () => {
  const { get, post } = await withTrial();
  const note = { run: 1, factor: "feed", value: "0.005 in/rev", reason: "override at 80 %" };
  expect((await post("/api/trials/seal-face/as-cut", note)).status).toBe(200);
  expect((await post("/api/trials/seal-face/as-cut", { ...note, reason: "" })).status).toBe(422);
  expect(
    (await post("/api/trials/seal-face/as-cut", { ...note, factor: "edge", value: "blunt" })).status,
  ).toBe(422);
  const sheet = await answer<RunSheetAnswer>(await get("/api/trials/seal-face/run-sheet"));
  expect(sheet.runs[0]?.asCut).toEqual(["0.127 mm/rev", ""]); // 0.005 × 25.4
  expect(sheet.runs[0]?.asCutReasons).toEqual(["feed cut at 0.127 mm/rev: override at 80 %"]);
});

test("runs are added to a plan, within its limits", async () => {
  const { get, post } = await withTrial();
  const added = await post("/api/trials/seal-face/runs", { runs: [{ feed: 0.16, edge: "fresh" }] });
  expect(added.status).toBe(201);
  expect(await added.json()).toEqual({ runs: 9 });
  const { plan } = await answer<PlanAnswer>(await get("/api/trials/seal-face/plan"));
  expect(plan?.runs[8]).toMatchObject({
    run: 9,
    block: 2,
    role: "added",
    settings: ["0.16 mm/rev", "fresh"],
  });
  expect((await post("/api/trials/seal-face/runs", { runs: [{ feed: 0.16, edge: "blunt" }] })).status).toBe(
    422,
  );
  expect((await post("/api/trials/seal-face/runs", { runs: [] })).status).toBe(400);
  await post("/api/trials/seal-face/runs", { runs: [{ feed: 0.16, edge: "used" }], block: "last" });
  const later = await answer<PlanAnswer>(await get("/api/trials/seal-face/plan"));
  expect(later.plan?.runs[9]).toMatchObject({ run: 10, block: 2 });
});

test("a trial outside the project can't be reached by any spelling of its name", async () => {
  const { get, post, root } = await withTrial();
  const outside = await mkdtemp(join(tmpdir(), "trycut-outside-"));
  const spec = parseTrialSpec(trialJson);
  await createTrial(outside, "secret", spec, layOut(spec).runs);
  await symlink(join(outside, "secret"), join(root, "experiments", "link"));
  const spellings = [
    "..",
    "%2e%2e",
    "..%2f..%2fsecret",
    encodeURIComponent(join(outside, "secret")),
    "link",
    "a%00b",
  ];
  for (const name of spellings) {
    for (const sheet of ["plan", "run-sheet"]) {
      const refused = await get(`/api/trials/${name}/${sheet}`);
      expect([400, 403, 404], `${name} ${sheet}`).toContain(refused.status);
      expect(await refused.text()).not.toContain("Pump cover");
    }
    const written = await post(`/api/trials/${name}/readings`, at(1));
    expect([400, 403, 404], name).toContain(written.status);
  }
  expect((await openTrial(join(outside, "secret"))).readings).toHaveLength(0);
});

test("only JSON is taken, and it must be as the bench says", async () => {
  const { raw, post, cookie } = await withTrial();
  const origin = "http://127.0.0.1:8127";
  const send = (type: string, body: string) =>
    raw("/api/trials/seal-face/readings", {
      method: "POST",
      headers: { cookie, origin, "content-type": type },
      body,
    });
  expect((await send("text/plain", JSON.stringify(at(1)))).status).toBe(415);
  expect((await send("application/x-www-form-urlencoded", "run=1")).status).toBe(415);
  expect((await send("application/json", "{")).status).toBe(400);
  expect((await post("/api/trials/seal-face/readings", [])).status).toBe(400);
});

test("a file edited in a spreadsheet is taken up, and the sheet says so once", async () => {
  const { get, post, root } = await withTrial();
  await post("/api/trials/seal-face/readings", at(1, { typed: "0.80" }));
  const file = join(root, "experiments", "seal-face", "readings.csv");
  await writeFile(file, (await readFile(file, "utf8")).replace("0.80", "0.85"));
  const sheet = await answer<RunSheetAnswer>(await get("/api/trials/seal-face/run-sheet"));
  expect(sheet.runs[0]?.readings[0]?.text).toBe("0.85 µm");
  expect(sheet.head.notices.join(" ")).toContain("readings.csv was edited by hand");
});
