import { readdirSync } from "node:fs";
import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { fileURLToPath } from "node:url";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createRunner, renderPage, type Page, type Runner } from "../../src/notebook/index.ts";

const source = fileURLToPath(new URL("../..", import.meta.url));
const names = readdirSync(join(source, "notebooks"))
  .filter((file) => file.endsWith(".ts"))
  .map((file) => file.slice(0, -3))
  .sort();

let runner: Runner;
let root: string;
beforeAll(async () => {
  // A copy, because a notebook may write beside its trial (a finding).
  root = await mkdtemp(join(tmpdir(), "trycut notebooks (test) "));
  for (const folder of ["notebooks", "experiments"])
    await cp(join(source, folder), join(root, folder), { recursive: true });
  runner = createRunner({ root });
});
afterAll(async () => {
  await runner.close();
  await rm(root, { recursive: true, force: true });
});

/** Each run starts a worker with the whole library, so that a page is made once for all claims about it. */
const pages = new Map<string, Promise<Page>>();
function run(name: string, answers: Readonly<Record<string, string>> = {}): Promise<Page> {
  const key = JSON.stringify([name, answers]);
  const page =
    pages.get(key) ?? runner.run(join(root, "notebooks", `${name}.ts`), { answers, date: "2026-11-25" });
  pages.set(key, page);
  return page;
}
const prose = (page: Page): string =>
  page.entries.map((entry) => (entry.kind === "prose" ? entry.markdown : "")).join("\n");
const kinds = (page: Page): readonly string[] =>
  page.entries.map((entry) => (entry.kind === "figure" ? entry.figure.kind : entry.kind));

describe("each example notebook", () => {
  test.each(names)("%s runs to its end, and shows no number that is none", async (name) => {
    const page = await run(name);
    expect(page.entries.filter(({ kind }) => kind === "error")).toEqual([]);
    expect(page.entries.length).toBeGreaterThan(0);
    const html = renderPage(page).replace(/<svg.*?<\/svg>/gsu, "");
    expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/u);
  });
});

test("the recipe notebook says what stops more, shows the kept ground twice, and decides the proof beforehand", async () => {
  const page = await run("choose-the-recipe");
  expect(prose(page)).toMatch(/Both together hold with at least 90 % assurance\./u);
  expect(prose(page)).toMatch(/What stops more: .* would break the limit on (Ra|power)/u);
  expect(prose(page)).toMatch(/A good recipe .* fails with chance .*; a bad one .* passes with chance/u);
  expect(kinds(page).filter((kind) => kind.includes("contour"))).toHaveLength(2);
  const none = await run("choose-the-recipe", { "Limit on Ra": "0.05 µm" });
  expect(none.entries.filter(({ kind }) => kind === "error")).toEqual([]);
  expect(prose(none)).toContain("No settings keep every limit");
  expect(prose(none)).toContain("There is nothing to prove yet");
});

test("the surface notebook places the best settings, says how surely, and tells the way there", async () => {
  const page = await run("find-the-surface");
  expect(prose(page)).toMatch(/Ra is lowest near feed .* that lies within what was cut\./u);
  expect(prose(page)).toMatch(/With 95 % confidence the level point of Ra lies within feed/u);
  expect(prose(page)).toMatch(/Along .* Ra bends up: .* multiplies it by/u);
  expect(prose(await run("find-the-surface", { "Ra should become": "larger" }))).toContain(
    "To make Ra larger",
  );
});

test("the screening notebook names what stands out in both trials, and what was chosen by looking", async () => {
  const page = await run("screen-the-factors");
  expect(prose(page)).toMatch(/feed .* overhang .* and runout .* stand out from the scatter/u);
  expect(kinds(page)).toContain("half-normal");
  expect(prose(page)).toMatch(/This model was chosen as .*; its intervals know nothing of the choice/u);
});

test("methods stand as small print under what they explain, with the year of their source", async () => {
  for (const name of ["find-the-surface", "screen-the-factors"]) {
    const methods = (await run(name)).entries.filter((entry) => entry.kind === "method");
    expect(methods.length).toBeGreaterThan(1);
    for (const { text } of methods) expect(text).toMatch(/\b(19|20)\d\d\b/u);
  }
});

test("the floor notebook tells the floor, where it can't be told, and which passes would", async () => {
  const page = await run("find-the-floor");
  expect(prose(page)).toMatch(/Ra does not get below about/u);
  expect(prose(page)).toMatch(/can't tell a floor from a smaller exponent/u);
  expect(prose(page)).toMatch(/passes at feed .* would tell/u);
  expect(kinds(page).filter((kind) => kind === "floor")).toHaveLength(2);
  expect(kinds(page).filter((kind) => kind === "profile")).toHaveLength(2);
});
