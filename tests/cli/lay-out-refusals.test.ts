import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { refusedOthers } from "./refused-others.ts";
import { categories, quantities } from "./refused-request.ts";
import { refusedTwoLevel } from "./refused-two-level.ts";
import { listeningTerminal } from "./terminal.ts";

let folder = "";
beforeAll(() => (folder = mkdtempSync(join(tmpdir(), "trycut-refused-"))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What the command says of a request that it refuses; that it wrote nothing is checked here. */
async function refusal(factors: readonly object[], layout: object): Promise<string> {
  writeFileSync(join(folder, "spec.json"), JSON.stringify({ title: "Refused (invented)", factors, layout }));
  const terminal = listeningTerminal(folder);
  const code = await runCommand(["lay-out", "spec.json", "--write", "trial"], verbs, terminal);
  expect(readdirSync(folder)).toEqual(["spec.json"]);
  expect(terminal.said).toEqual([]);
  expect(code).toBe(1);
  return terminal.complaints.join("\n");
}

describe("lay-out refuses, writes nothing and says which number would work", () => {
  test.each([...refusedTwoLevel, ...refusedOthers])("%s", async (_, factors, layout, message) => {
    expect(await refusal(factors, layout)).toBe(message);
  });
});

describe("what a refusal advises can be had", () => {
  test.each<readonly [string, readonly object[], object]>([
    ["fraction of resolution 3", quantities(3), { kind: "fraction", resolution: 3 }],
    ["cube of 256", quantities(14), { kind: "central-composite", cube: 256, axial: "face" }],
    ["corners in three blocks", quantities(4), { kind: "central-composite", blocks: 3 }],
    ["extra runs", quantities(60), { kind: "definitive-screening", extra: 8 }],
    ["three factors of nine levels", categories(9, 9, 9), { kind: "orthogonal-array" }],
    ["a Youden square of quadratic residues", categories(47, 47, 23), { kind: "latin-square" }],
    ["one generator for three factors", quantities(3), { kind: "fraction", generators: ["C = AB"] }],
  ])("%s", async (_, factors, layout) => {
    writeFileSync(join(folder, "spec.json"), JSON.stringify({ title: "Had (invented)", factors, layout }));
    const terminal = listeningTerminal(folder);
    expect(await runCommand(["lay-out", "spec.json", "--json"], verbs, terminal)).toBe(0);
    expect(terminal.complaints).toEqual([]);
  });
});
