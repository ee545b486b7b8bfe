import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { mixedFixture } from "../reference/mixed-models.ts";
import { listeningTerminal } from "./terminal.ts";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-random-"));
  const columns = mixedFixture("paper-split-plot");
  const names = Object.keys(columns);
  const lines = columns[names[0]].map((_, row) => names.map((name) => columns[name][row]).join(","));
  await writeFile(join(folder, "paper.csv"), [names.join(","), ...lines].join("\n"));
  await writeFile(join(folder, "alike.csv"), "day,feed,Ra\n1,0.1,0.5\n1,0.2,0.9\n1,0.1,0.6\n1,0.2,1.0\n");
  await writeFile(
    join(folder, "coolant.csv"),
    "day,coolant,Ra\n1,flood,0.5\n1,flood,0.6\n2,mist,0.9\n2,mist,0.8\n",
  );
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function fit(file: string, ...words: string[]) {
  const terminal = listeningTerminal(folder);
  const code = await runCommand(["fit", file, ...words], verbs, terminal);
  return { code, text: terminal.said.join("\n"), complaint: terminal.complaints.join("\n") };
}

const paper =
  "--response strength --factors method,temperature --categories method,temperature --model interactions".split(
    " ",
  );
const random = ["--random", "replicate,replicate+method"];

describe("fit --random", () => {
  test("JSON holds the variances, the residual last, and F on the degrees of freedom of each stratum", async () => {
    const { code, text } = await fit("paper.csv", ...paper, ...random, "--json");
    expect(code).toBe(0);
    const answer = JSON.parse(text) as {
      variances: { source: string; variance: number }[];
      analysis: { source: string; f: number; denominatorDf: number }[];
    };
    expect(answer.variances.map(({ source }) => source)).toEqual([
      "replicate",
      "replicate + method",
      "residual",
    ]);
    // Mean squares of the published analysis: 77.56/2, 36.28/4, 71.50/18.
    expect(answer.variances[2].variance).toBeCloseTo(71.5 / 18, 10);
    expect(answer.variances[1].variance).toBeCloseTo((36.2777777777777 / 4 - 71.5 / 18) / 4, 10);
    expect(answer.analysis[0]).toMatchObject({
      source: "method",
      f: expect.closeTo(7.078, 3) as number,
      denominatorDf: expect.closeTo(4, 8) as number,
    });
  });

  test("--small-sample kenward-roger gives the same in a balanced layout", async () => {
    const one = await fit("paper.csv", ...paper, ...random, "--json");
    const other = await fit("paper.csv", ...paper, ...random, "--small-sample", "kenward-roger", "--json");
    const coefficients = (text: string) =>
      (JSON.parse(text) as { coefficients: { df: number; p: number }[] }).coefficients;
    coefficients(other.text).forEach(({ df, p }, k) => {
      expect(df).toBeCloseTo(coefficients(one.text)[k].df, 8);
      expect(p).toBeCloseTo(coefficients(one.text)[k].p, 10);
    });
  });

  test("the text tells each source in words, and what plain least squares would claim", async () => {
    const { text } = await fit("paper.csv", ...paper, ...random);
    const words = text.replaceAll(/\s+/g, " ");
    expect(words).toContain("From one replicate to another strength scatters by 2");
    expect(words).toContain("Plain least squares would claim too much of method 2 against 1");
  });

  test("what can't be told is refused with its reason", async () => {
    const alike = await fit("alike.csv", "--response", "Ra", "--factors", "feed", "--random", "day");
    expect(alike).toMatchObject({
      code: 1,
      complaint:
        "day as a random source, with one level in every row; expected at least two levels, better five or more. One day says nothing of how days differ: leave it out, or cut on a second one.",
    });
    const coolant = await fit("coolant.csv", "--response", "Ra", "--factors", "coolant", "--random", "day");
    expect(coolant).toMatchObject({
      code: 1,
      complaint:
        "day as a random source, where every difference between its 2 levels is one of coolant as well; expected settings that were cut on more than one day. Whether coolant or day made the difference can't be told: leave one of them out, or cut each setting on a second day.",
    });
    const lone = await fit(
      "alike.csv",
      "--response",
      "Ra",
      "--factors",
      "feed",
      "--small-sample",
      "kenward-roger",
    );
    expect(lone.code).toBe(2);
  });
});
