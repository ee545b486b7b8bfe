import { readFile } from "node:fs/promises";
import { expect, test } from "vitest";
import { remarkMethod } from "../../src/review/index.ts";
import { readCoverage } from "./coverage-table.ts";
import { facts, remarkTable } from "./remark-table.ts";

const read = (path: string): Promise<string> => readFile(new URL(path, import.meta.url), "utf8");
const lines = readCoverage(await read("coverage.csv"));

test("DEVELOPERS.md tells how often each remark is raised, by the committed lines", async () => {
  expect(await read("../../DEVELOPERS.md")).toContain(remarkTable(lines));
});

test("every kind of remark stands in the table", async () => {
  const files = [
    "added-after-looking",
    "fit-checks",
    "flat-at-low-end",
    "gauge-checks",
    "left-along-factor",
    "levels-scatter-unlike",
    "moved-together",
    "nearly-together",
    "order-follows-factor",
    "replication",
    "residual-checks",
    "whole-plots-as-runs",
  ];
  const sources = await Promise.all(files.map((file) => read(`../../src/review/${file}.ts`)));
  const kinds = sources.flatMap((text) =>
    [...text.matchAll(/kind: "([a-z]+-[a-z-]+)"/gu)].map((one) => one[1]),
  );
  const table = remarkTable(lines);
  expect(kinds.length).toBeGreaterThan(18);
  for (const kind of kinds) expect(table).toMatch(new RegExp(`^\\| ${kind} `, "mu"));
  // A fact has no rate, and a remark that chance can raise is no fact.
  for (const kind of Object.keys(facts))
    expect(lines.some(({ name }) => name.includes(`: ${kind},`))).toBe(false);
});

test("the small print behind levels that scatter unlike tells the drawn rates", () => {
  const rate = (runs: number): string => {
    const name = `remark on clean runs: levels-scatter-unlike, ${runs} runs on 2 edges`;
    return (100 * lines.find((line) => line.name === name)!.share).toFixed(1);
  };
  expect(remarkMethod({ kind: "levels-scatter-unlike" })).toContain(
    `in ${rate(16)} % of 10,000 simulated trials of 16 runs with nothing wrong, in ${rate(8)} % of those of 8 runs`,
  );
});
