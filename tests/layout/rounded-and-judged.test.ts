import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { listeningTerminal } from "../cli/terminal.ts";

// Feed 0.08 to 0.24 mm/rev in steps of 0.03, so that no end can be set as stated: 0.08 → 0.09, 0.16 → 0.15, 0.24 stays.
const spec = {
  title: "Rounded to the machine's steps (invented)",
  factors: [
    { kind: "quantity", name: "feed", unit: "mm/rev", low: 0.08, high: 0.24, increment: 0.03 },
    { kind: "quantity", name: "depth", unit: "mm", low: 0.5, high: 1.5 },
  ],
  layout: { kind: "factorial", centrePoints: 2, replicates: 1 },
};
const SIGMA = 0.1;

interface Laid {
  readonly runs: readonly { readonly settings: { readonly feed: number; readonly depth: number } }[];
}
interface Judged {
  readonly terms: readonly { readonly label: string; readonly standardError: number }[];
}

async function json(folder: string, words: readonly string[]): Promise<unknown> {
  const terminal = listeningTerminal(folder);
  const code = await runCommand([...words, "--json"], verbs, terminal);
  expect(terminal.complaints).toEqual([]);
  expect(code).toBe(0);
  return JSON.parse(terminal.said.join("\n")) as unknown;
}

test("settings rounded to the increment are laid out rounded and judged as rounded", async () => {
  const folder = mkdtempSync(join(tmpdir(), "trycut-rounded-"));
  try {
    writeFileSync(join(folder, "spec.json"), JSON.stringify(spec));
    // What lay-out and judge print has these shapes, which the figures below rely on.
    const laid = (await json(folder, ["lay-out", "spec.json", "--write", "trial"])) as Laid;
    const judged = (await json(folder, [
      "judge",
      "spec.json",
      "--sigma",
      String(SIGMA),
      "--terms",
      "main",
    ])) as Judged;
    expect(laid.runs.map(({ settings }) => settings.feed).sort()).toEqual([
      0.09, 0.09, 0.15, 0.15, 0.24, 0.24,
    ]);

    // Plain algebra on the rounded settings: coded x with mean x̄, error of a slope σ/√Σ(x − x̄)². The two columns are at right
    // angles, for each feed is cut at both depths alike.
    const codedFeed = [0.09, 0.09, 0.15, 0.15, 0.24, 0.24].map((feed) => (feed - 0.16) / 0.08);
    const codedDepth = [-1, 1, 0, 0, -1, 1];
    const spread = (values: readonly number[]) => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    };
    const error = (label: string) =>
      judged.terms.find((term) => term.label === label)?.standardError ?? Number.NaN;
    expect(error("feed")).toBeCloseTo(SIGMA / Math.sqrt(spread(codedFeed)), 12);
    expect(error("depth")).toBeCloseTo(SIGMA / Math.sqrt(spread(codedDepth)), 12);
    // As stated, unrounded, the error of feed would be 0.05: the judgement is not of the plan as wished.
    expect(error("feed")).toBeGreaterThan(0.052);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
