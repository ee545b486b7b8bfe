import { describe, expect, test } from "vitest";
import { layOut, layOutWithProgress, type LayoutProgress } from "../../src/layout/index.ts";
import { coolant, edge, feed, speed } from "./factors.ts";

const request = {
  factors: [feed, speed, coolant],
  layout: { kind: "optimal", runs: 14, terms: "surface", starts: 12, seed: 3 },
};

describe("laying out with progress", () => {
  test("gives the layout that layOut gives, and tells every start", async () => {
    const told: LayoutProgress[] = [];
    const layout = await layOutWithProgress(request, { onProgress: (progress) => told.push(progress) });
    expect(layout).toEqual(layOut(request));
    expect(told.at(-1)).toMatchObject({ starts: 12, startsDone: 12, criterion: "D" });
    expect(told.at(-1)?.text).toMatch(
      /^12 of 12 starts; best D-efficiency 0\.\d+ of X′X = n·I, reached by \d+$/,
    );
  });

  test("stops when it is told to, keeps the best so far and says so", async () => {
    const stop = new AbortController();
    const layout = await layOutWithProgress(
      { ...request, layout: { ...request.layout, starts: 100_000 } },
      { signal: stop.signal, onProgress: () => stop.abort() },
    );
    expect(layout.runs).toHaveLength(14);
    expect(layout.notes[0]).toMatch(
      /^Stopped after \d+ of 100,000 starts, the best so far is kept\. Best of \d+ starts by D/,
    );
  });

  test("lays out other kinds at once", async () => {
    const other = { factors: [feed, edge], layout: { kind: "factorial" } };
    expect(await layOutWithProgress(other)).toEqual(layOut(other));
  });
});
