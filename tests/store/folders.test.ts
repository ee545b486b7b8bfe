import { mkdir, readdir, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  createTrial,
  layOutTrial,
  listTrials,
  notePublished,
  noteReview,
  openTrial,
  record,
  safeName,
  trialFolder,
  whyNotAFolder,
} from "../../src/store/index.ts";
import { freshRoot, sampleRuns, sampleSpec } from "./sample-trial.ts";

describe("createTrial", () => {
  it("makes the folder whole: spec as given, plan, empty files, journal", async () => {
    const root = await freshRoot();
    const trial = await createTrial(root, "seal-face", sampleSpec, sampleRuns);
    expect((await readdir(trial.folder)).sort()).toEqual([
      "as-cut.csv",
      "journal.ndjson",
      "plan.csv",
      "readings.csv",
      "trial.json",
    ]);
    expect(await readdir(root)).toEqual(["seal-face"]);
    expect((await openTrial("seal-face", { root })).checksum).toBe(trial.checksum);
  });

  it("refuses a folder that is there, in any capitals, and leaves nothing behind", async () => {
    const root = await freshRoot();
    await createTrial(root, "seal-face", sampleSpec);
    await expect(createTrial(root, "Seal-Face", sampleSpec)).rejects.toThrow(
      "the folder is there already; nothing was changed. Choose another name.",
    );
    await expect(createTrial(root, "other", { ...sampleSpec, factors: [] })).rejects.toThrow(
      "other/trial.json, factors: got []",
    );
    await expect(
      createTrial(root, "other", sampleSpec, [{ ...sampleRuns[0], settings: { feed: 0.1 } }]),
    ).rejects.toThrow("plan.csv, run 1, edge: got nothing");
    expect(await readdir(root)).toEqual(["seal-face"]);
  });

  it.each([
    "",
    "../evil",
    "a/b",
    "a\\b",
    "con",
    "NUL.txt",
    "com1",
    "trailing.",
    ".hidden",
    "späne",
    "a".repeat(81),
    "x.tmp",
    "a b",
  ])("refuses the name %j", async (name) => {
    await expect(createTrial(await freshRoot(), name, sampleSpec)).rejects.toThrow(
      "expected at most 80 letters",
    );
  });
});

describe("safeName", () => {
  it.each([
    ["Seal face: feed & edge", "seal-face-feed-edge"],
    ["Späne – Vorschub 0,2", "spane-vorschub-0-2"],
    ["CON", "trial-con"],
    ["   ", "trial"],
    ["../../etc", "etc"],
  ])("makes of %j the folder %j", (title, name) => {
    expect(safeName(title)).toBe(name);
    expect(whyNotAFolder(name)).toBeNull();
  });
});

describe("trialFolder", () => {
  it("opens nothing outside a given root, by dots, an absolute path or a link", async () => {
    const root = await freshRoot();
    const outside = await freshRoot();
    await mkdir(join(root, "inside"));
    await symlink(outside, join(root, "link"));
    expect(await trialFolder("inside", { root })).toBe(join(root, "inside"));
    expect(await trialFolder(join(root, "inside"), { root })).toBe(join(root, "inside"));
    for (const name of ["..", "../x", ".", "/etc", "link", "inside/../../x", "a\0b", " "]) {
      await expect(trialFolder(name, { root })).rejects.toThrow(/lies outside|expected the name of a trial/);
    }
  });
});

describe("listTrials", () => {
  it("says what to do next with each trial, and lists a broken one with its problem", async () => {
    const root = await freshRoot();
    const oneResponse = { ...sampleSpec, responses: [sampleSpec.responses[0]] };
    const nextOf = async (name: string): Promise<string> => {
      const { next, problem } = (await listTrials(root)).find((trial) => trial.name === name) ?? {
        next: { step: "", text: "" },
        problem: "",
      };
      return [next.step, next.text, problem].filter((part) => part !== "").join(" | ");
    };
    const { folder } = await createTrial(root, "trial", oneResponse);
    expect(await nextOf("trial")).toBe("lay out | lay out the runs");
    await layOutTrial(folder, sampleRuns.slice(0, 4));
    expect(await nextOf("trial")).toBe("cut | cut 4 runs");
    await record(folder, [{ run: 1, response: "Ra", value: 0.8 }]);
    expect(await nextOf("trial")).toBe("cut | cut 3 more of 4 runs");
    await record(
      folder,
      [2, 3, 4].map((run) => ({ run, response: "Ra", value: run === 4 ? 31 : 0.8 })),
      { force: "as read" },
    );
    expect(await nextOf("trial")).toBe("review | review the results, then publish");
    await noteReview(folder, "looked fine");
    expect(await nextOf("trial")).toBe("publish | publish");
    await notePublished(folder, "finding/finding.html");
    expect(await nextOf("trial")).toBe("done | published: finding/finding.html");
    await record(folder, [{ run: 1, response: "Ra", value: 0.82 }]);
    expect(await nextOf("trial")).toBe("publish | publish again: something changed since");
    await writeFile(join(folder, "plan.csv"), "nonsense\n");
    expect(await nextOf("trial")).toContain(
      "mend | mend its files | plan.csv line 1, nonsense: got the unknown column",
    );
    await mkdir(join(root, "no-trial"));
    expect((await listTrials(root)).map(({ name }) => name)).toEqual(["trial"]);
    expect(await listTrials(join(root, "nothing"))).toEqual([]);
  });
});
