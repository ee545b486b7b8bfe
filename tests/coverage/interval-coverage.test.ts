import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { cases } from "./cases.ts";
import { mergeCoverage, readCoverage } from "./coverage-table.ts";
import { drawBlock } from "./draw-block.ts";

const committed = readCoverage(await readFile(new URL("coverage.csv", import.meta.url), "utf8"));

describe("the committed table of interval coverage", () => {
  test("has one line for each case, drawn with its seed, and no other", () => {
    expect(committed.map(({ name, seed }) => `${name} ${seed}`).sort()).toEqual(
      cases.map(({ name, seed }) => `${name} ${seed}`).sort(),
    );
    const drawn = cases.filter(({ name, together }) => (together?.names[0] ?? name) === name);
    expect(new Set(drawn.map(({ seed }) => seed)).size).toBe(drawn.length);
  });

  test.each(committed.map((line) => [line.name, line] as const))("%s keeps its promise", (name, line) => {
    const {
      promise = "equal",
      nominal,
      known,
      fewer = 10_000,
    } = cases.find((candidate) => candidate.name === name)!;
    expect(line.trials).toBeGreaterThanOrEqual(fewer);
    expect({ promise: line.promise, nominal: line.nominal }).toEqual({ promise, nominal });
    if (promise === "told") return;
    // A point in a hundred for 95 %, as the aim is stated; 4 standard errors of the draws for other chances.
    const allowed = nominal === 0.95 ? 0.01 : 4 * Math.sqrt((nominal * (1 - nominal)) / line.trials);
    const short = promise !== "at most" && line.share < nominal - allowed;
    const over = promise !== "at least" && line.share > nominal + allowed;
    // Where a method is known to miss its promise, the case says so, and what uses it tells the true figure.
    expect(short || over).toBe(known !== undefined);
  });

  test("has lines that a block of the same seed can be drawn for again", () => {
    for (const { name, together } of cases) {
      if (together !== undefined && together.names[0] !== name) continue;
      const block = drawBlock({ name, block: 0, trials: 2 });
      expect(block.counts.map((count) => count.name)).toContain(name);
      for (const { held, without } of block.counts) expect(held + without).toBeLessThanOrEqual(2);
      expect(drawBlock({ name, block: 0, trials: 2 })).toEqual(block);
    }
  }, 120_000);

  test("keeps the other lines when one case is drawn anew", () => {
    const drawnOn = new Date("2026-01-02T00:00:00Z");
    const result = { nominal: 0.95, promise: "equal", seed: 1, trials: 100, held: 90, without: 0 } as const;
    const first = mergeCoverage("", [{ ...result, name: 'b, "quoted"' }], drawnOn);
    const second = mergeCoverage(first, [{ ...result, name: "a", held: 95, without: 5 }], drawnOn);
    expect(second.split("\n")).toEqual([
      "case,promise,nominal,share,standard error,held,trials,without interval,seed,date",
      '"a",equal,0.95,1.0000,0.0000,95,100,5,1,2026-01-02',
      '"b, ""quoted""",equal,0.95,0.9000,0.0300,90,100,0,1,2026-01-02',
      "",
    ]);
  });
});
