import { mkdir, mkdtemp, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { notebookNames, notebookPath, trialPath } from "../../src/bench/project-path.ts";
import { newProject } from "./bench-under-test.ts";

const waysOut = [
  "..",
  ".",
  "../experiments/seal-face",
  "seal-face/../../..",
  "%2e%2e",
  "..%2f..",
  "/etc",
  "C:\\Windows",
  "a\\b",
  ".hidden",
  "seal\u0000face",
  "seal-face/",
  "",
  "a..b",
  "x".repeat(81),
];

test("a name that could lead out of the folder is refused, whether or not something is there", async () => {
  const root = await newProject();
  await mkdir(join(root, "experiments", "seal-face"));
  for (const name of waysOut) {
    await expect(trialPath(root, name), name).rejects.toThrow(/can't be the name of a trial/);
    await expect(notebookPath(root, name), name).rejects.toThrow(/can't be the name of a notebook/);
  }
});

test("a link that leads out of the folder is not followed, one that stays inside is", async () => {
  const root = await newProject();
  const outside = await mkdtemp(join(tmpdir(), "trycut-outside-"));
  await writeFile(join(outside, "secret.ts"), "");
  await symlink(outside, join(root, "experiments", "elsewhere"));
  await symlink(join(outside, "secret.ts"), join(root, "notebooks", "secret.ts"));
  await mkdir(join(root, "experiments", "seal-face"));
  await symlink(join(root, "experiments", "seal-face"), join(root, "experiments", "same-face"));
  await expect(trialPath(root, "elsewhere")).rejects.toThrow(/is a link that leads out of/);
  await expect(notebookPath(root, "secret")).rejects.toThrow(/is a link that leads out of/);
  expect(await trialPath(root, "same-face")).toMatch(/seal-face$/);
});

test("a trial that isn't there is said to be missing", async () => {
  const root = await newProject();
  await expect(trialPath(root, "seal-face")).rejects.toThrow(
    `There is no trial "seal-face" in ${join(root, "experiments")}.`,
  );
});

test("names in letters of any language and with spaces are taken", async () => {
  const root = await newProject();
  await mkdir(join(root, "experiments", "Dichtfläche 2"));
  expect(await trialPath(root, "Dichtfläche 2")).toMatch(/Dichtfläche 2$/);
});

test("notebooks are listed by name, and none where the folder is missing", async () => {
  const root = await newProject();
  for (const file of ["b.ts", "a.ts", "a.html", "types.d.ts", "notes.md"]) {
    await writeFile(join(root, "notebooks", file), "");
  }
  expect(await notebookNames(root)).toEqual(["a", "b"]);
  expect(await notebookNames(join(root, "nowhere"))).toEqual([]);
});
