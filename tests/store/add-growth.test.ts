import { cp, readFile, rm, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { grow, layOut } from "../../src/layout/index.ts";
import { fitLinear } from "../../src/model/index.ts";
import { remarks } from "../../src/review/index.ts";
import { addGrowth, addRuns, createTrial, openTrial, readJournal, record } from "../../src/store/index.ts";
import type { TrialFolder } from "../../src/store/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { deadLock } from "./changed-folder.ts";
import { freshRoot, steadyClock } from "./sample-trial.ts";

/** A half fraction of three factors, cut and read. Invented: Ra = 0.5 + 0.2 · feed (coded) + 0.1 on the second day. */
async function halfFraction(): Promise<TrialFolder> {
  const spec = {
    format: "trycut-trial/1",
    title: "Seal face",
    question: "What moves Ra?",
    dataKind: "invented",
    source: "made up for tests",
    display: "metric",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 },
      { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000 },
      { name: "edge", kind: "category", levels: ["fresh", "used"] },
    ],
    responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
    layout: { kind: "fraction", runs: 4 },
    held: { depth: "0.1 mm" },
  };
  const { runs } = layOut(parseTrialSpec(spec));
  const { folder } = await createTrial(await freshRoot(), "seal-face", spec, runs, { now: steadyClock() });
  await read(folder, runs);
  return openTrial(folder);
}

async function read(folder: string, runs: TrialFolder["runs"]): Promise<void> {
  await record(
    folder,
    runs.map(({ run, block, settings }) => ({
      run,
      response: "Ra",
      value: 0.5 + (settings["feed"] === 0.2 ? 0.2 : -0.2) + (block === 2 ? 0.1 : 0),
    })),
    { force: "invented", now: steadyClock() },
  );
}

describe("adding a growth to a trial", () => {
  it("appends to the plan and leaves runs and readings byte for byte as they were", async () => {
    const trial = await halfFraction();
    const [plan, readings] = await Promise.all(
      ["plan.csv", "readings.csv"].map((name) => readFile(join(trial.folder, name), "utf8")),
    );
    const grown = await addGrowth(trial.folder, grow(trial, { by: "fold", seed: 5 }), { now: steadyClock() });
    expect(grown.runs).toHaveLength(8);
    expect((await readFile(join(trial.folder, "plan.csv"), "utf8")).startsWith(plan)).toBe(true);
    expect(await readFile(join(trial.folder, "readings.csv"), "utf8")).toBe(readings);
    expect((await openTrial(trial.folder)).runs).toEqual(grown.runs);
  });

  it("keeps how the runs were chosen and that readings stood, for the reader of the finding", async () => {
    const trial = await halfFraction();
    await addGrowth(trial.folder, grow(trial, { by: "fold", seed: 5 }), { now: steadyClock() });
    const again = await openTrial(trial.folder);
    expect(again.added).toMatchObject([
      { from: 5, to: 8, readingsBefore: 4, how: { by: "fold", options: { seed: 5, factors: "all" } } },
    ]);
    expect((await readJournal(trial.folder)).at(-1)?.text).toBe("4 runs added by fold");
    const [note] = remarks(again).filter(({ kind }) => kind === "added-after-looking");
    expect(note).toMatchObject({
      weight: "note",
      title: "Runs 5 to 8 were added after 4 readings had been taken (fold, seed 5).",
      runs: [5, 6, 7, 8],
    });
    expect(note.evidence).toMatch(/^Added 2026-11-25: Fold all factors: feed = speed × edge splits into/);
  });

  it("analyses with a level of its own for the block: a step between days is not taken for an effect", async () => {
    const trial = await halfFraction();
    const { runs } = await addGrowth(trial.folder, grow(trial, { by: "fold" }), { now: steadyClock() });
    await read(trial.folder, runs.slice(4));
    const fit = fitLinear(await openTrial(trial.folder), { response: "Ra", coded: true });
    expect(fit.blocks?.levels).toEqual(["1", "2"]);
    const feed = fit.coefficients.find(({ label }) => label === "feed");
    // Made as 0.2 without scatter, and a step of 0.1 between the blocks.
    expect(feed?.estimate).toBeCloseTo(0.2, 10);
    expect(fit.analysis[0]).toMatchObject({ source: "block" });
  });

  it("refuses a growth that was made for the plan as it was before another writer", async () => {
    const trial = await halfFraction();
    const growth = grow(trial, { by: "fold" });
    const both = await Promise.allSettled([
      addGrowth(trial.folder, growth, { now: steadyClock() }),
      addGrowth(trial.folder, growth, { now: steadyClock() }),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
    const [refused] = both.filter((one) => one.status === "rejected");
    expect((refused.reason as Error).message).toBe(
      "plan.csv: the plan has 8 runs, and these were chosen when it had 4: somebody has changed it since. Look again at what is to be added; nothing was written.",
    );
    expect((await openTrial(trial.folder)).runs).toHaveLength(8);
  });

  it("is there whole or not at all, wherever a crash cuts the journal", async () => {
    const trial = await halfFraction();
    const before = await readFile(join(trial.folder, "plan.csv"));
    await addGrowth(trial.folder, grow(trial, { by: "fold" }), { now: steadyClock() });
    const journal = await readFile(join(trial.folder, "journal.ndjson"));
    const lastLine = journal.lastIndexOf(10, journal.length - 2) + 1;
    const copy = join(await freshRoot(), "copy");
    for (const cut of [0, 1, 300, 900, journal.length - lastLine - 2, journal.length - lastLine]) {
      await cp(trial.folder, copy, { recursive: true });
      await truncate(join(copy, "journal.ndjson"), lastLine + cut);
      await writeFile(join(copy, "plan.csv"), before);
      await deadLock(copy);
      const { runs, added, readings } = await openTrial(copy);
      const isWhole = cut >= journal.length - lastLine - 1;
      expect([runs.length, added?.length]).toEqual(isWhole ? [8, 1] : [4, 0]);
      expect(readings).toHaveLength(4);
      await rm(copy, { recursive: true });
    }
  });

  it("of runs given by hand says so, and no run at all is refused", async () => {
    const trial = await halfFraction();
    const settings = { feed: 0.15, speed: 1500, edge: "fresh" };
    const { added } = await addRuns(trial.folder, [{ settings }], { now: steadyClock() });
    expect(added).toMatchObject([{ from: 5, to: 5, readingsBefore: 4, how: null }]);
    await expect(addRuns(trial.folder, [])).rejects.toThrow("no run was given to add; nothing was written.");
  });
});
