import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { workedExample } from "../reference/worked-example.ts";
import { listeningTerminal } from "./terminal.ts";

interface Answer {
  readonly pairs: readonly {
    readonly from: string;
    readonly to: string;
    readonly difference?: number;
    readonly ratio?: number;
    readonly low: number | null;
    readonly high: number | null;
    readonly p: number | null;
    readonly reason?: string;
  }[];
  readonly notes: readonly string[];
}

async function compare(words: readonly string[], text: string) {
  const folder = await mkdtemp(join(tmpdir(), "trycut-compare-"));
  await writeFile(join(folder, "data.csv"), text);
  const terminal = listeningTerminal(folder);
  const code = await runCommand(["compare", "data.csv", ...words], verbs, terminal);
  return { code, said: terminal.said.join("\n"), complaints: terminal.complaints.join("\n") };
}

async function answer(words: readonly string[], text: string): Promise<Answer> {
  const { code, said, complaints } = await compare([...words, "--json"], text);
  expect(complaints).toBe("");
  expect(code).toBe(0);
  // What the verb prints is the subject of these tests.
  return JSON.parse(said) as Answer;
}

function csvOf(name: string): string {
  const { columns } = workedExample(name);
  const lines = columns[0].values.map((_, i) => columns.map(({ values }) => values[i]).join(","));
  return [columns.map((column) => column.name).join(","), ...lines].join("\n");
}

describe("trycut compare", () => {
  // NIST/SEMATECH e-Handbook 7.4.7.1, printed with q rounded to 4.05, so within 0.01.
  test("--json gives every pair as `to` less `from` with simultaneous intervals", async () => {
    const { pairs } = await answer(["--response", "response", "--factor", "group"], csvOf("four-groups"));
    const printed = [
      ["1", "2", 0.29, 4.47],
      ["1", "3", 1.13, 5.31],
      ["1", "4", -1.93, 2.25],
      ["2", "3", -1.25, 2.93],
      ["2", "4", -4.31, -0.13],
      ["3", "4", -5.15, -0.97],
    ] as const;
    expect(pairs).toHaveLength(printed.length);
    printed.forEach(([from, to, low, high], i) => {
      expect(pairs[i]).toMatchObject({ from, to });
      expect(Math.abs(pairs[i].low! - low)).toBeLessThan(0.011);
      expect(Math.abs(pairs[i].high! - high)).toBeLessThan(0.011);
    });
  });

  // Montgomery, Design and Analysis of Experiments, chapter 3: means 551.2, 587.4, 625.4, 707.0; honest difference 33.09 with q rounded to 4.05.
  test("etch rates by power, levels named as they were written", async () => {
    const { pairs } = await answer(["--response", "rate", "--factor", "power"], csvOf("etch-rate-4-levels"));
    expect(pairs.map(({ difference }) => Number(difference!.toFixed(1)))).toEqual([
      36.2, 74.2, 155.8, 38, 119.6, 81.6,
    ]);
    for (const { low, high } of pairs) expect(Math.abs((high! - low!) / 2 - 33.09)).toBeLessThan(0.04);
  });

  const edges =
    "edge,day,Ra [µm]\nnew,mon,0.50\nused,mon,0.61\nnew,tue,0.56\nused,tue,0.68\nnew,wed,0.52\nused,wed,0.65";

  test("--with compares each level with one, and finds its column by the level", async () => {
    const { pairs } = await answer(["--response", "Ra", "--with", "new"], edges);
    expect(pairs).toHaveLength(1);
    expect(pairs[0]).toMatchObject({ from: "new", to: "used" });
    // R 4.2, t.test(used, new, var.equal = TRUE): 0.12, 0.0453853 to 0.1946147, p 0.0111152.
    expect(pairs[0].difference).toBeCloseTo(0.12, 10);
    expect(pairs[0].low).toBeCloseTo(0.0453853, 6);
    expect(pairs[0].p).toBeCloseTo(0.0111152, 6);
  });

  test("--block takes the days off, which narrows the interval", async () => {
    const { pairs } = await answer(["--response", "Ra", "--factor", "edge", "--block", "day"], edges);
    // R 4.2, t.test(used, new, paired = TRUE): 0.12, 0.0951586 to 0.1448414.
    expect(pairs[0].low).toBeCloseTo(0.0951586, 6);
    expect(pairs[0].high).toBeCloseTo(0.1448414, 6);
  });

  test("--log tells ratios", async () => {
    const { pairs } = await answer(["--response", "Ra", "--factor", "edge", "--log"], edges);
    expect(pairs[0].difference).toBeUndefined();
    // R 4.2: exp(mean(log(used)) - mean(log(new))).
    expect(pairs[0].ratio).toBeCloseTo(1.22799588, 8);
  });

  test("--margin adds whether the levels are alike within it; it is never assumed", async () => {
    const words = ["--response", "Ra", "--factor", "edge"];
    expect(await answer(words, edges)).not.toHaveProperty("equivalence");
    const { said } = await compare([...words, "--margin", "0.3", "--json"], edges);
    expect(JSON.parse(said)).toMatchObject({ equivalence: { margin: 0.3, pairs: [{ verdict: "within" }] } });
    const refused = await compare([...words, "--margin", "0"], edges);
    expect(refused).toMatchObject({ code: 1 });
    expect(refused.complaints).toMatch(/margin 0; expected the largest difference that counts as none/u);
  });

  test("for a person: intervals first, then the numbers and the method", async () => {
    const { said } = await compare(["--response", "Ra", "--factor", "edge"], edges);
    expect(said).toMatch(
      /^- With edge used, Ra is 0\.12 µm higher than with new \(95 %: 0\.05 to 0\.19, p\s+0\.011\)/u,
    );
    expect(said).toMatch(/Two levels compared by Student’s t\./u);
    expect(said).not.toMatch(/NaN|undefined|null/u);
  });

  test.each([
    [
      ["--response", "Ra", "--factor", "edge", "--with", "old"],
      1,
      /edge "old" to compare with; expected one of new or used/u,
    ],
    [["--response", "Ra", "--factor", "tool"], 1, /unknown column "tool"/u],
    [
      ["--response", "Ra"],
      2,
      /--factor is needed: the column with the levels to compare, one of edge or day/u,
    ],
    [["--factor", "edge"], 2, /--response is needed/u],
    [["--response", "Ra", "--factor", "edge", "--ranks", "--unequal"], 1, /one or the other/u],
    [["--response", "Ra", "--factor", "edge", "--confidence", "95"], 2, /write 0\.95/u],
  ] as const)("%j is refused in words", async (words, wanted, complaint) => {
    const { code, complaints } = await compare(words, edges);
    expect(code).toBe(wanted);
    expect(complaints).toMatch(complaint);
  });

  test("readings that are all alike are an answer with its reason, never NaN", async () => {
    const flat = "edge,Ra\nnew,1\nnew,1\nused,1\nused,1";
    const { pairs } = await answer(["--response", "Ra", "--factor", "edge"], flat);
    expect(pairs[0]).toMatchObject({ low: null, high: null, p: null });
    expect(pairs[0].reason).toMatch(/no scatter to judge by/u);
  });

  test("one level is refused by name, and mixed words among numbers by line", async () => {
    const one = await compare(["--response", "Ra", "--factor", "edge"], "edge,Ra\nnew,1\nnew,2");
    expect(one).toMatchObject({ code: 1 });
    expect(one.complaints).toMatch(/edge with one level, new/u);
    const mixed = await compare(
      ["--response", "Ra", "--factor", "edge"],
      "edge,Ra [µm]\nnew,1\nused,31 µin\n",
    );
    expect(mixed).toMatchObject({ code: 1 });
    expect(mixed.complaints).toMatch(/line 3: Ra "31 µin"; expected a number/u);
  });
});
