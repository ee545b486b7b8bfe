import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { listeningTerminal } from "./terminal.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "trycut-search-"));
  writeFileSync(
    join(folder, "spec.json"),
    JSON.stringify({
      title: "Long search (invented)",
      factors: [
        { kind: "quantity", name: "feed", unit: "mm/rev", low: 0.08, high: 0.24 },
        { kind: "quantity", name: "speed", unit: "rev/min", low: 800, high: 1250 },
      ],
      layout: { kind: "optimal", terms: "surface", runs: 10, starts: 100_000 },
    }),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test("a long search says how far it has come, and a stop writes the best so far whole", async () => {
  const stop = new AbortController();
  const terminal = listeningTerminal(folder);
  let seconds = 0;
  const code = await runCommand(["lay-out", "spec.json", "--write", "trial"], verbs, {
    ...terminal,
    signal: stop.signal,
    // Three seconds between any two looks at the clock.
    now: () => new Date(Date.UTC(2026, 10, 25, 10, 0, (seconds += 3))),
    error: (text) => {
      terminal.error(text);
      stop.abort();
    },
  });
  expect(code).toBe(0);
  expect(terminal.complaints[0]).toMatch(
    /^[\d,]+ of 100,000 starts; best D-efficiency 0\.\d+ of X′X = n·I, reached by [\d,]+\. Ctrl-C stops with the best so far\.$/,
  );
  expect(terminal.said.join("\n").replaceAll(/\s+/g, " ")).toMatch(
    /Stopped after [\d,]+ of 100,000 starts, the best so far is kept/,
  );
  expect(readdirSync(join(folder, "trial")).sort()).toEqual([
    "as-cut.csv",
    "journal.ndjson",
    "plan.csv",
    "readings.csv",
    "trial.json",
  ]);
  const plan = readFileSync(join(folder, "trial", "plan.csv"), "utf8")
    .trim()
    .split("\n");
  expect(plan).toHaveLength(11);
});
