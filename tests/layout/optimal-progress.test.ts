import { describe, expect, test } from "vitest";
import { layOut, layOutWithProgress, type LayoutProgress } from "../../src/layout/index.ts";
import { coded, coolant, edge, feed, speed } from "./factors.ts";

const request = {
  factors: [feed, speed, coolant],
  layout: { kind: "optimal", runs: 14, terms: "surface", starts: 12, seed: 3 },
};

describe("laying out with progress", () => {
  test("gives the layout that layOut gives, and tells how the starts came out", async () => {
    const told: LayoutProgress[] = [];
    const layout = await layOutWithProgress(request, { onProgress: (progress) => told.push(progress) });
    expect(layout).toEqual(layOut(request));
    expect(told.at(-1)).toMatchObject({ starts: 12, startsDone: 12, criterion: "D" });
    expect(told.at(-1)?.text).toMatch(
      /^12 of 12 starts; best D-efficiency 0\.\d+ of X′X = n·I, reached by \d+$/,
    );
    const { worstShare = 0, middleShare = 0, reached = 0 } = told.at(-1) ?? {};
    expect(worstShare).toBeGreaterThan(0.5);
    expect(middleShare).toBeGreaterThanOrEqual(worstShare);
    expect(reached).toBeGreaterThanOrEqual(1);
  });

  test("gives the same layout with no worker thread, with one and with three", async () => {
    // Long enough that the workers take a share: some 50 ms a start by A with 28 terms.
    const long = {
      factors: coded(6),
      layout: { kind: "optimal", runs: 36, terms: "surface", criterion: "A", starts: 8, seed: 11 },
    };
    const alone = await layOutWithProgress(long, { workers: 0 });
    expect(await layOutWithProgress(long, { workers: 1 })).toEqual(alone);
    expect(await layOutWithProgress(long, { workers: 3 })).toEqual(alone);
  }, 120_000);

  test("takes constraints as functions, which no other thread could be given", async () => {
    const allow = [
      (settings: Readonly<Record<string, number | string>>) =>
        settings.coolant === "dry" && Number(settings.speed) > 1000 ? "it would burn" : null,
    ];
    const layout = await layOutWithProgress(request, { allow, workers: 2 });
    expect(layout).toEqual(layOut(request, { allow }));
    expect(layout.runs.some((run) => allow[0](run.settings) !== null)).toBe(false);
  });

  test("stops when it is told to, keeps the best so far and says so", async () => {
    const stop = new AbortController();
    const layout = await layOutWithProgress(
      { ...request, layout: { ...request.layout, starts: 100_000 } },
      { signal: stop.signal, onProgress: () => stop.abort() },
    );
    expect(layout.runs).toHaveLength(14);
    expect(layout.notes[0]).toMatch(
      /^Stopped after \d+ of 100,000 starts, the best so far is kept: save the plan itself, for its seed alone does not make it again\. Best of \d+ starts by D/,
    );
  });

  test("gives a layout even where it was stopped before it began", async () => {
    const layout = await layOutWithProgress(request, { signal: AbortSignal.abort() });
    expect(layout.runs).toHaveLength(14);
    expect(layout.notes[0]).toMatch(/^Stopped after 0 of 12 starts.* the first start had not ended\.$/);
  });

  test("refuses what layOut refuses", async () => {
    const bad = { ...request, layout: { ...request.layout, runs: 3 } };
    await expect(layOutWithProgress(bad)).rejects.toThrow(/^layout\.runs: \d+ terms/);
  });

  test("lays out other kinds at once", async () => {
    const other = { factors: [feed, edge], layout: { kind: "factorial" } };
    expect(await layOutWithProgress(other)).toEqual(layOut(other));
  });
});
