import { mkdir, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { benchUnderTest } from "./bench-under-test.ts";

test("a page is told when a file of its trial is saved by another program, by renaming included", async () => {
  const { live, root } = await benchUnderTest();
  const folder = join(root, "experiments", "seal-face");
  await mkdir(folder);
  await writeFile(join(folder, "readings.csv"), "run\n");
  const stream = await live("/api/live/changes?trial=seal-face");
  await stream.next("open");
  await writeFile(join(folder, "readings.csv"), "run\n1\n");
  await stream.next("changed");
  await writeFile(join(folder, "plan.tmp"), "run\n");
  await stream.next("changed");
  await rename(join(folder, "plan.tmp"), join(folder, "plan.csv"));
  await stream.next("changed");
});

test("the list of trials is told of a new folder", async () => {
  const { live, root } = await benchUnderTest();
  const stream = await live("/api/live/changes");
  await stream.next("open");
  await mkdir(join(root, "experiments", "new-one"));
  await stream.next("changed");
});

test("changes can't be watched outside the project", async () => {
  const { raw, cookie } = await benchUnderTest();
  const headers = { cookie, "sec-fetch-site": "same-origin" };
  for (const trial of ["..", "%2e%2e", "%2Fetc", "..%2F..%2Fetc", "missing"]) {
    const answer = await raw(`/api/live/changes?trial=${trial}`, { headers });
    expect([400, 404], trial).toContain(answer.status);
  }
});
