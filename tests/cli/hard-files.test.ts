import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { unreadable } from "../hard-input/unreadable.ts";
import { listeningTerminal } from "./terminal.ts";

const head = "feed [mm/rev],edge,Ra [µm]";
const lines = (rows: readonly (readonly [number | string, string, number | string])[]): string =>
  [head, ...rows.map((cells) => cells.join(","))].join("\n");
const usual = [
  [0.1, "fresh", 0.52],
  [0.2, "fresh", 1.08],
  [0.3, "fresh", 1.49],
  [0.1, "used", 0.66],
  [0.2, "used", 1.21],
  [0.3, "used", 1.93],
] as const;

/** Files that people really have, and a few that no shop does. */
const files: Readonly<Record<string, string>> = {
  "an empty file": "",
  "a heading and no line": head,
  "one line": lines(usual.slice(0, 1)),
  "two lines": lines(usual.slice(0, 2)),
  "words among the readings": lines([...usual.slice(1), [0.1, "fresh", "smooth"]]),
  "NaN among the readings": lines([...usual.slice(1), [0.1, "fresh", "NaN"]]),
  "Infinity among the settings": lines([...usual.slice(1), ["Infinity", "fresh", 0.5]]),
  "an empty cell of a setting": lines([...usual.slice(1), ["", "fresh", 0.5]]),
  "an empty reading": lines([...usual, [0.1, "fresh", ""]]),
  "all one reading": lines(usual.map(([feed, edge]) => [feed, edge, 0.8])),
  "all zero": lines(usual.map(([feed, edge]) => [feed, edge, 0])),
  "a reading below zero": lines([...usual.slice(1), [0.1, "fresh", -0.5]]),
  "one edge": lines(usual.map(([feed, , value]) => [feed, "fresh", value])),
  "one feed": lines(usual.map(([, edge, value]) => [0.2, edge, value])),
  "a line met exactly": lines(usual.map(([feed, edge]) => [feed, edge, 5 * feed])),
  "micro-inches among micrometres": lines(
    usual.map(([feed, edge, value], i) => [feed, edge, i === 2 ? 39.37 * value : value]),
  ),
  "every line twice": lines([...usual, ...usual]),
  "readings of 1e150": lines(usual.map(([feed, edge, value]) => [feed, edge, value * 1e150])),
  "readings of 1e300": lines(usual.map(([feed, edge, value]) => [feed, edge, value * 1e300])),
  "settings of 1e-150": lines(usual.map(([feed, edge, value]) => [feed * 1e-150, edge, value])),
};

const calls: readonly (readonly string[])[] = [
  ["fit", "--response", "Ra", "--factors", "feed,edge"],
  ["fit", "--response", "Ra", "--factors", "feed", "--model", "surface", "--find-transform"],
  ["fit", "--response", "Ra", "--factors", "feed,edge", "--model", "power-law", "--at", '{"feed":0.15}'],
  ["fit", "--response", "Ra", "--factors", "feed", "--random", "edge"],
  ["compare", "--response", "Ra", "--factor", "edge"],
  ["compare", "--response", "Ra", "--factor", "edge", "--with", "fresh"],
  ["curve", "--response", "Ra", "--expression", "b1*feed^b2", "--start", "b1=5,b2=1"],
];

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-hard-"));
  for (const [k, text] of Object.values(files).entries()) await writeFile(join(folder, `${k}.csv`), text);
  // Loading what a verb needs is no part of what is asked of it.
  for (const verb of verbs) if (calls.some(([name]) => name === verb.name)) await verb.load();
}, 180_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

describe.each(calls.map((call) => [call.join(" "), call] as const))("trycut %s", (_, call) => {
  test.each(Object.keys(files).map((name, k) => [name, k] as const))(
    "%s: an answer that can be read, or a refusal in words",
    async (name, k) => {
      for (const more of [[], ["--json"]]) {
        const terminal = listeningTerminal(folder);
        const code = await runCommand([call[0], `${k}.csv`, ...call.slice(1), ...more], verbs, terminal);
        const complaints = terminal.complaints.join("\n");
        // A refusal may cite the word that stood in the cell; a fault of the program would show where it happened.
        const cited = name.startsWith("NaN") || name.startsWith("Infinity") ? /NaN|Infinity/gu : /(?!)/gu;
        expect(unreadable(terminal.said.join("\n").replace(cited, ""))).toEqual([]);
        expect(unreadable(complaints.replace(cited, ""))).toEqual([]);
        expect(complaints).not.toMatch(/\n\s+at /u);
        expect(code).toBe(complaints === "" ? 0 : 1);
        if (code === 1) expect(complaints).toMatch(/expected|found|no /u);
      }
    },
  );
});
