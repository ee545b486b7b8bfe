import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { openTrial, record } from "../../src/store/index.ts";
import { listeningTerminal } from "./terminal.ts";

let folder = "";
const trial = () => join(folder, "experiments", "seal-face");

async function call(...words: string[]) {
  const terminal = listeningTerminal(folder);
  const code = await runCommand(words, verbs, terminal);
  return { code, text: terminal.said.join("\n"), complaint: terminal.complaints.join("\n") };
}

async function json(...words: string[]) {
  const { code, text, complaint } = await call(...words, "--json");
  expect(complaint).toBe("");
  expect(code).toBe(0);
  return JSON.parse(text) as {
    readonly runs: readonly { run: number; block: number; role: string; settings: Record<string, unknown> }[];
    readonly brings: readonly string[];
    readonly written: boolean;
    readonly sigma: number | null;
    readonly proof: { readonly runs: number; readonly ruleText: string } | null;
  };
}

const spec = {
  title: "Seal face",
  dataKind: "invented",
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2, increment: 0.01 },
    { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000, increment: 10 },
    { name: "edge", kind: "category", levels: ["fresh", "used"] },
  ],
  responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
  layout: { kind: "fraction", runs: 4, replicates: 2, seed: 3 },
};

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-grow-"));
  await writeFile(join(folder, "spec.json"), JSON.stringify(spec));
  await call("lay-out", "spec.json", "--write", "experiments/seal-face");
  const { runs } = await openTrial(trial());
  await record(
    trial(),
    runs.map(({ run, settings }) => ({
      run,
      response: "Ra",
      value: (4 * Number(settings["feed"]) * (run % 2 === 0 ? 1.03 : 0.97)).toFixed(3),
    })),
    { force: "invented" },
  );
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("grow", () => {
  test("shows without writing, and says what the runs bring with the scatter of the readings", async () => {
    const before = await readFile(join(trial(), "plan.csv"), "utf8");
    const shown = await json("grow", "seal-face", "--by", "fold");
    expect(shown.runs.map(({ run, block }) => [run, block])).toEqual(
      [9, 10, 11, 12, 13, 14, 15, 16].map((run) => [run, 2]),
    );
    expect(shown.written).toBe(false);
    expect(shown.sigma).toBeGreaterThan(0);
    expect(shown.brings[0]).toContain("feed = speed × edge splits into feed | speed × edge");
    expect(
      shown.brings.some((text) => /could not be told before and will be known to ± .* µm/.test(text)),
    ).toBe(true);
    expect(await readFile(join(trial(), "plan.csv"), "utf8")).toBe(before);
    const { text } = await call("grow", "seal-face", "--by", "fold");
    expect(text).toContain("Nothing is written yet: the same with --write adds them to the plan.");
  });

  test("says what each fold frees, separates what hides, repeats what decides, proves a recipe", async () => {
    expect((await call("grow", "seal-face", "--by", "fold", "--choices")).text).toContain("Fold edge:");
    const apart = await json(
      "grow",
      "seal-face",
      "--by",
      "separate",
      "--between",
      "feed = speed*edge",
      "--block",
      "last",
    );
    expect(apart.runs).toHaveLength(1);
    const again = await json("grow", "seal-face", "--by", "replicate", "--effect", "feed", "--runs", "2");
    expect(again.runs).toHaveLength(2);
    const proof = await json("grow", "seal-face", "--by", "proof", "--recipe", "--rule", "parts");
    expect(proof.runs).toHaveLength(22);
    expect(proof.proof?.ruleText).toContain("at most 1 of them is above 0.8 µm");
    const axial = await json("grow", "seal-face", "--by", "axial", "--axial", "face", "--centre", "1");
    expect(axial.runs.filter(({ role }) => role === "axial")).toHaveLength(8);
  });

  test("refuses with the way out: no way, another way's option, no trial, nothing to gain", async () => {
    expect((await call("grow", "seal-face")).complaint).toContain(
      "--by is needed: fold, axial, replicate, separate or proof",
    );
    const strange = await call("grow", "seal-face", "--by", "fold", "--axial", "2");
    expect(strange.code).toBe(2);
    expect(strange.complaint).toContain(
      "--axial is not an option of --by fold, which takes --factors, --choices.",
    );
    expect((await call("grow", "nowhere", "--by", "fold")).code).toBe(1);
    const apart = await call("grow", "seal-face", "--by", "separate", "--between", "feed = edge");
    expect(apart.code).toBe(1);
    expect(apart.complaint).toContain("apart already");
    expect((await call("grow", "seal-face", "--by", "replicate")).complaint).toContain(
      "or --recipe for the trial's own recipe",
    );
  });

  test("--write adds the runs once", async () => {
    expect((await json("grow", "seal-face", "--by", "fold", "--seed", "4", "--write")).written).toBe(true);
    const { runs, readings, added } = await openTrial(trial());
    expect([runs.length, readings.length]).toEqual([16, 8]);
    expect(added).toMatchObject([{ from: 9, to: 16, readingsBefore: 8, how: { by: "fold" } }]);
    const again = await call("grow", "seal-face", "--by", "fold", "--write");
    expect(again.code).toBe(1);
    expect(again.complaint).toContain("frees nothing");
  });
});

describe("someone's own table of runs", () => {
  const table =
    "run;block;feed [mm/rev];speed [rev/min];edge\n1;1;0,1;1000;fresh\n2;1;0,2;1000;used\n3;1;0,1;2000;fresh\n4;2;0,2;2000;used\n5;2;0,2;2000;used\n";

  test("is judged from CSV as it stands, blocks and all, and says what moves together", async () => {
    await writeFile(join(folder, "runs.csv"), table);
    const { code, text } = await call("judge", "runs.csv", "--sigma", "0.1");
    expect(code).toBe(0);
    expect(text).toContain(
      "edge used against fresh can't be told from feed: they move together in every run.",
    );
  });

  test("gives the same judgement as the same runs in JSON", async () => {
    const rows = [
      [0.1, 1000, "fresh"],
      [0.2, 1000, "used"],
      [0.1, 2000, "fresh"],
      [0.2, 2000, "used"],
      [0.2, 2000, "used"],
    ];
    const runs = rows.map(([feed, speed, edge]) => ({ feed, speed, edge }));
    await writeFile(
      join(folder, "given.json"),
      JSON.stringify({ ...spec, layout: { kind: "given", runs, inBlock: [1, 1, 1, 2, 2] } }),
    );
    const fromJson = await call("judge", "given.json", "--sigma", "0.1", "--json");
    const fromTable = await call("judge", "spec.json", "--runs", "runs.csv", "--sigma", "0.1", "--json");
    expect(fromTable).toEqual(fromJson);
    expect((await call("lay-out", "spec.json", "--runs", "runs.csv", "--json")).text).toContain(
      '"role":"given"',
    );
  });

  test("is read in other units of the same dimension, and refused by line, column and unit", async () => {
    await writeFile(
      join(folder, "inch.csv"),
      "feed [in/rev],speed [rev/min],edge\n0.005,1000,fresh\n0.008,2000,used\n0.005,2000,used\n",
    );
    const { text } = await call("lay-out", "spec.json", "--runs", "inch.csv", "--json");
    expect(
      (JSON.parse(text) as { runs: { settings: { feed: number } }[] }).runs[0].settings.feed,
    ).toBeCloseTo(0.127, 12);
    await writeFile(
      join(folder, "bad.csv"),
      "feed [mm/rev],speed [rev/min],edge\n0.1,1000,fresh\n,2000,used\n",
    );
    expect((await call("judge", "spec.json", "--runs", "bad.csv", "--sigma", "1")).complaint).toContain(
      "bad.csv line 3, feed: got nothing; expected a number of mm/rev. Mend the cell.",
    );
    await writeFile(join(folder, "unit.csv"), "feed [µm],speed [rev/min],edge\n1,1000,fresh\n2,2000,used\n");
    expect((await call("judge", "spec.json", "--runs", "unit.csv", "--sigma", "1")).complaint).toContain(
      'unit.csv, feed: got the unit "µm"; expected mm/rev',
    );
    await writeFile(join(folder, "few.csv"), "speed [rev/min],edge\n1000,fresh\n");
    expect((await call("judge", "spec.json", "--runs", "few.csv", "--sigma", "1")).complaint).toContain(
      'few.csv: there is no column "feed"; the columns are speed and edge.',
    );
  });
});
