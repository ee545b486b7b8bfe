import { mkdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parseHTML } from "linkedom";
import { expect, test } from "vitest";
import type { FindingAnswer } from "../../src/bench/api.ts";
import type { RecipeAnswer } from "../../src/bench/recipe-api.ts";
import { extractData } from "../../src/finding/index.ts";
import { answer, withReadTrial, withTrial, withTwoLimits } from "./trial-under-test.ts";

const address = "/api/trials/seal-face/finding";

test("a trial without readings has nothing to publish, and says so", async () => {
  const { get, post } = await withTrial();
  expect(await answer<FindingAnswer>(await get(address))).toMatchObject({
    published: null,
    refusal: "There is nothing to publish yet: no reading is in use. Fill in the run sheet first.",
  });
  expect((await post(address, {})).status).toBe(422);
  expect((await get(`${address}/page`)).status).toBe(404);
  expect((await get(`${address}/package`)).status).toBe(404);
});

test("publishing writes page and package, and tells what is published", async () => {
  const { get, post, root } = await withReadTrial();
  const made = await post(address, {});
  expect(made.status).toBe(201);
  const { published, head } = await answer<FindingAnswer>(made);
  expect(published).toMatchObject({
    page: "experiments/seal-face/finding/index.html",
    package: "experiments/seal-face/finding/seal-face.zip",
    date: "2026-03-02",
    checksum: head.checksum,
    outdated: false,
  });
  const html = await readFile(join(root, "experiments", "seal-face", "finding", "index.html"), "utf8");
  expect(extractData(html).trial.readings).toHaveLength(8);
  const file = await get(`${address}/page?as=file`);
  expect(file.headers.get("content-disposition")).toBe("attachment; filename*=UTF-8''seal-face.html");
  expect(await file.text()).toBe(html);
  const zip = new Uint8Array(await (await get(`${address}/package`)).arrayBuffer());
  expect([...zip.subarray(0, 2)]).toEqual([0x50, 0x4b]); // "PK", how every zip begins
});

test("the page is shown under a policy of its own: no script, no network, no frame but the bench's", async () => {
  const { get, post } = await withReadTrial();
  await post(address, {});
  const page = await get(`${address}/page`);
  const policy = page.headers.get("content-security-policy") ?? "";
  expect(policy).toContain("default-src 'none'");
  expect(policy).toMatch(/(^|;\s*)sandbox/);
  expect(policy).not.toContain("allow-scripts");
  expect(policy).toContain("frame-ancestors 'self'");
  expect(page.headers.get("x-frame-options")).toBe("SAMEORIGIN");
});

test("a model and a confidence that were asked for go into the page", async () => {
  const { get, post } = await withReadTrial();
  await post(address, { confidence: "90", models: { Ra: "main" } });
  const html = await (await get(`${address}/page`)).text();
  expect(html).toContain("The model was chosen by the author of this page.");
  expect(html).toContain("(90 %");
  expect((await post(address, { models: { Ra: "wild" } })).status).toBe(400);
  expect((await post(address, { models: { Rx: "main" } })).status).toBe(422);
});

test("what was typed in the review's panel is what the page tells: the same settings, limits and proof rule", async () => {
  const { get, post } = await withTwoLimits();
  const recipe = {
    "limit.Ra": "28 µin",
    "for.Ra": "next",
    "parts.Ra": "5",
    "limit.flatness": "5",
    "for.flatness": "mean",
    assurance: "90",
    push: "time",
    "hold.edge": "used",
  };
  const panel = await answer<RecipeAnswer>(
    await get(`/api/trials/two-limits/recipe?${new URLSearchParams(recipe).toString()}`),
  );
  const { form } = panel;
  expect(await answer<FindingAnswer>(await get("/api/trials/two-limits/finding"))).toMatchObject({
    recipe: form,
  });
  expect((await post("/api/trials/two-limits/finding", { recipe })).status).toBe(201);
  const { document } = parseHTML(await (await get("/api/trials/two-limits/finding/page")).text());
  const told = document.querySelector("#recipe")?.textContent ?? "";
  const found = panel.recipe;
  expect(found?.sentences[0]).toContain("each of the next 5 parts at or below 0.711 µm with 90 % assurance"); // 28 · 0.0254
  for (const sentence of found?.sentences ?? []) expect(told).toContain(sentence);
  for (const [name, amount] of found?.settings ?? []) expect(told).toContain(`${name} ${amount}`);
  for (const [name, amount] of found?.figures ?? []) expect(told).toContain(`${name}: ${amount}.`);
  expect(found?.proof).toHaveLength(2);
  for (const { rule, chances } of found?.proof ?? []) expect(told).toContain(`${rule} ${chances}`);
  const refused = await post("/api/trials/two-limits/finding", { recipe: { "limit.Ra": "smooth" } });
  expect(refused.status).toBe(422);
  expect(await refused.text()).toContain('The limit \\"smooth\\" on Ra can\'t be read');
});

test("a page that the trial has outgrown says so", async () => {
  const { get, post } = await withReadTrial();
  await post(address, {});
  const key = { run: 1, response: "Ra", spot: 1, repeat: 1 };
  await post("/api/trials/seal-face/voids", { ...key, reason: "burr" });
  expect(await answer<FindingAnswer>(await get(address))).toMatchObject({ published: { outdated: true } });
});

test("a page that was changed by hand is named, and can be published anew", async () => {
  const { get, post, root } = await withReadTrial();
  await post(address, {});
  const file = join(root, "experiments", "seal-face", "finding", "index.html");
  await writeFile(file, "<p>not a finding</p>");
  const damaged = await answer<FindingAnswer>(await get(address));
  expect(damaged.published).toBeNull();
  expect(damaged.problem).toContain("no block of data");
  expect((await post(address, {})).status).toBe(201);
  expect((await answer<FindingAnswer>(await get(address))).problem).toBe("");
});

test("a finding that links out of the trial is not shown", async () => {
  const { get, root } = await withReadTrial();
  const folder = join(root, "experiments", "seal-face", "finding");
  await mkdir(folder, { recursive: true });
  await rm(join(folder, "index.html"), { force: true });
  await symlink("/etc/passwd", join(folder, "index.html"));
  await symlink("/etc/passwd", join(folder, "seal-face.zip"));
  for (const part of ["page", "package"]) {
    const refused = await get(`${address}/${part}`);
    expect(refused.status, part).toBe(403);
    expect(await refused.text()).not.toContain("root:");
  }
});
