import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { extractData, publish, writeFinding } from "../../src/finding/index.ts";
import { sealFace } from "./trials.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-finding-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const finding = publish(sealFace(), { date: "2026-11-25" });

test("page and package are written into the trial's finding folder, and nothing else", async () => {
  const written = await writeFinding(folder, finding);
  expect(written).toEqual({
    page: join(folder, "finding", "index.html"),
    package: join(folder, "finding", "seal-face.zip"),
  });
  expect((await readdir(join(folder, "finding"))).sort()).toEqual(["index.html", "seal-face.zip"]);
  expect(await readFile(written.page, "utf8")).toBe(finding.html);
  expect(new Uint8Array(await readFile(written.package))).toEqual(finding.packageZip);
  expect(extractData(await readFile(written.page, "utf8")).trial.readings).toHaveLength(24);
});

test("written again, the old page is replaced whole", async () => {
  await writeFinding(folder, { ...finding, html: "old" });
  await writeFinding(folder, finding);
  expect(await readFile(join(folder, "finding", "index.html"), "utf8")).toBe(finding.html);
  expect(await readdir(join(folder, "finding"))).toHaveLength(2);
});

test("where a file can't be replaced, it stands as it was and nothing is left beside it", async () => {
  await writeFinding(folder, finding);
  await rm(join(folder, "finding", "seal-face.zip"));
  await mkdir(join(folder, "finding", "seal-face.zip"));
  await writeFile(join(folder, "finding", "seal-face.zip", "in the way"), "");
  await expect(writeFinding(folder, { ...finding, html: "new" })).rejects.toThrow();
  expect(await readFile(join(folder, "finding", "index.html"), "utf8")).toBe(finding.html);
  expect((await readdir(join(folder, "finding"))).sort()).toEqual(["index.html", "seal-face.zip"]);
});
