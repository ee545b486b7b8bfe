import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { listeningTerminal } from "./terminal.ts";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-cli-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function call(...words: string[]) {
  const terminal = listeningTerminal(folder);
  const code = await runCommand(words, verbs, terminal);
  return { code, text: terminal.said.join("\n"), complaint: terminal.complaints.join("\n") };
}

async function json(...words: string[]) {
  const { code, text, complaint } = await call(...words, "--json");
  expect(complaint).toBe("");
  return { code, answer: JSON.parse(text) as Record<string, never> };
}

const write = (name: string, content: unknown) =>
  writeFile(join(folder, name), typeof content === "string" ? content : JSON.stringify(content));

const twoFactors = {
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 },
    { name: "edge", kind: "category", levels: ["fresh", "used"] },
  ],
  responses: [{ name: "Ra", unit: "µm" }],
  layout: { kind: "factorial", replicates: 2, seed: 3 },
};

describe("lay-out", () => {
  test("prints the runs of the layout as JSON, the same for the same seed", async () => {
    await write("spec.json", twoFactors);
    const first = await json("lay-out", "spec.json");
    expect(first.answer).toMatchObject({ runs: expect.any(Array) as unknown, generators: [], aliases: [] });
    expect(first.answer["runs"]).toHaveLength(8);
    expect(first.answer["runs"][0]).toEqual({
      run: 1,
      standard: expect.any(Number) as unknown,
      block: 1,
      role: "corner",
      settings: { feed: expect.any(Number) as unknown, edge: expect.any(String) as unknown },
    });
    expect((await json("lay-out", "spec.json")).answer).toEqual(first.answer);
  });

  test("--write makes the trial folder once, and refuses to write over it", async () => {
    await write("spec.json", twoFactors);
    expect((await json("lay-out", "spec.json", "--write", "experiments/made")).code).toBe(0);
    const plan = await readFile(join(folder, "experiments/made/plan.csv"), "utf8");
    expect(plan.split("\n")[0]).toBe("run,standard,block,role,feed [mm/rev],edge");
    const again = await call("lay-out", "spec.json", "--write", "experiments/made");
    expect(again.code).toBe(1);
    expect(again.complaint).toContain("made");
  });

  test("a plan over the cutter's limit is refused with the run and the mend, and nothing is written", async () => {
    await write("fast.json", {
      ...twoFactors,
      factors: [
        ...twoFactors.factors,
        { name: "speed", kind: "quantity", unit: "rev/min", low: 4000, high: 9000 },
      ],
      cutter: { maxSpeed: "8000 rev/min" },
    });
    const refused = await call("lay-out", "fast.json", "--write", "experiments/fast");
    expect(refused.code).toBe(1);
    expect(refused.complaint).toMatch(/[Rr]un \d+/);
    expect(refused.complaint).toMatch(/9[\s\u202f]?000/);
    await expect(readFile(join(folder, "experiments/fast/plan.csv"))).rejects.toThrow("ENOENT");
  });

  test("an unknown key, a missing file and broken JSON are refused with what was expected", async () => {
    await write("odd.json", { ...twoFactors, colour: "red" });
    expect(await call("lay-out", "odd.json")).toMatchObject({ code: 1 });
    expect((await call("lay-out", "odd.json")).complaint).toContain("colour");
    expect((await call("lay-out", "nothing.json")).complaint).toContain("there is no such file");
    await write("broken.json", "{ factors: ");
    expect((await call("lay-out", "broken.json")).complaint).toContain("expected JSON");
  });
});

describe("judge", () => {
  test("half-width and power of a duplicated 2 × 2, against t and the table of two-sample power", async () => {
    // 2 × 2 in 4 replicates: each main effect compares 8 runs with 8; with δ = σ the power of two groups of 8 at 14 df is 0.461176 (R's power.t.test);
    // here the model takes 3 df, so 13 remain and the power is a little less.
    await write("spec.json", { ...twoFactors, layout: { kind: "factorial", replicates: 4, seed: 3 } });
    const { answer } = await json("judge", "spec.json", "--terms", "main", "--sigma", "1", "--effect", "1");
    expect(answer).toMatchObject({ runs: 16, df: 13 });
    const [feed] = answer["terms"] as {
      term: unknown;
      standardError: number;
      halfWidth: number;
      power: number;
    }[];
    expect(feed.term).toEqual({ feed: 1 });
    expect(feed.standardError).toBeCloseTo(0.25, 12);
    // t(0.975, 13) = 2.160369 from R's qt; the effect is twice the coded coefficient
    expect(feed.halfWidth).toBeCloseTo(2.160369 * 0.5, 5);
    expect(feed.power).toBeGreaterThan(0.455);
    expect(feed.power).toBeLessThan(0.461176);
  });

  test("without a σ nothing is guessed", async () => {
    await write("spec.json", twoFactors);
    expect(await call("judge", "spec.json")).toMatchObject({ code: 2 });
  });
});

describe("fit", () => {
  const table =
    "feed [mm/rev],edge,Ra [µm]\n0.1,fresh,0.5\n0.1,used,0.7\n0.2,fresh,0.9\n0.2,used,1.3\n0.1,fresh,0.6\n0.1,used,0.8\n0.2,fresh,1.0\n0.2,used,1.2\n";

  test("coefficients, analysis and lack of fit come with the names of the columns, units left off", async () => {
    await write("runs.csv", table);
    const { answer } = await json(
      "fit",
      "runs.csv",
      "--response",
      "Ra",
      "--factors",
      "feed,edge",
      "--model",
      "interactions",
    );
    const terms = (answer["coefficients"] as { term: unknown }[]).map(({ term }) => term);
    expect(terms).toEqual([{}, { feed: 1 }, { "edge=used": 1 }, { feed: 1, "edge=used": 1 }]);
    expect(answer["residualSd"]).toBeCloseTo(Math.sqrt((4 * 2 * 0.05 ** 2) / 4), 12);
  });

  test("a decimal comma and semicolons give the same fit", async () => {
    await write("runs.csv", table);
    await write("german.csv", table.replaceAll(",", ";").replaceAll(".", ","));
    const words = ["--response", "Ra", "--factors", "feed,edge"];
    expect((await json("fit", "german.csv", ...words)).answer).toEqual(
      (await json("fit", "runs.csv", ...words)).answer,
    );
  });

  test("predictions stand on the response's own scale, and outside the range they say so", async () => {
    await write("runs.csv", table);
    const { answer } = await json(
      ...(["fit", "runs.csv", "--response", "Ra", "--factors", "feed,edge", "--model", "power-law"] as const),
      "--at",
      '{"feed":0.4,"edge":"used"}',
    );
    const [prediction] = answer["predictions"] as { estimate: number; mean: { low: number; high: number } }[];
    expect(prediction.mean.low).toBeLessThan(prediction.estimate);
    expect((answer["remarks"] as { kind: string }[]).map(({ kind }) => kind)).toContain("prediction-outside");
  });

  test("--from and --to ask what going from one setting to another does, in words and for machines", async () => {
    await write("runs.csv", table);
    const words = ["fit", "runs.csv", "--response", "Ra", "--factors", "feed,edge", "--model", "power-law"];
    const asked = ["--from", '{"feed":0.2,"edge":"used"}', "--to", '{"feed":0.1}'];
    const { answer } = await json(...(words as [string, ...string[]]), ...asked);
    const { as, to, estimate, low, high, df, sentence } = answer["contrast"] as Readonly<
      Record<"estimate" | "low" | "high" | "df", number>
    > & { readonly as: string; readonly to: object; readonly sentence: string };
    expect({ as, to }).toEqual({ as: "ratio", to: { feed: 0.1, edge: "used" } });
    const [, exponent] = answer["coefficients"] as { estimate: number; df: number }[];
    expect(estimate).toBeCloseTo(0.5 ** exponent.estimate, 12);
    expect(df).toBe(exponent.df);
    expect(low < estimate && estimate < high).toBe(true);
    const { text } = await call(...words, ...asked);
    expect(text.replace(/\s+/g, " ")).toContain(sentence);
    expect(sentence).toMatch(
      /^With edge used, going from feed 0\.2 mm\/rev to feed 0\.1 mm\/rev multiplies Ra by 0\.\d+ \(95 % 0\.\d+ to 0\.\d+\)\.$/,
    );
    expect((await call(...words, "--from", '{"feed":0.2}')).code).toBe(2);
    expect((await call(...words, "--from", '{"feed":0.2}', "--to", '{"feed":0.2}')).code).toBe(1);
  });

  test("the page for people begins with sentences and keeps the numbers for the end", async () => {
    await write("runs.csv", table);
    const { text } = await call("fit", "runs.csv", "--response", "Ra", "--factors", "feed,edge");
    expect(text.split("\n")[0]).toMatch(/^- Raising feed from 0.1 to 0.2 mm\/rev raises Ra by/);
    expect(text).not.toMatch(/\*|~/);
  });
});

describe("record and status", () => {
  test("a reading is saved, a unit slip is asked about, and an answer mends it", async () => {
    await write("spec.json", twoFactors);
    await call("lay-out", "spec.json", "--write", "experiments/reading");
    for (const run of ["1", "2", "3", "4"]) {
      expect((await json("record", "reading", "--run", run, "--response", "Ra", "0.82", "0.79")).code).toBe(
        0,
      );
    }
    const slip = await call("record", "reading", "--run", "5", "--response", "Ra", "31");
    expect(slip.code).toBe(1);
    expect(slip.complaint).toContain("µin");
    expect(slip.complaint).toContain("Nothing was written");
    const id = /--answer "([^=]+)=([^":]+)"\s+[^\n]*µin/.exec(slip.complaint);
    const mended = await json("record", "reading", "--run", "5", "31", "--answer", `${id?.[1]}=${id?.[2]}`);
    expect(mended.code).toBe(0);
    expect((await json("record", "reading", "--run", "6", "31µin")).code).toBe(0);
    const { answer } = await json("status", "reading");
    expect(answer).toMatchObject({ runs: 8, cut: 6, readings: 10, toCut: [7, 8] });
  });

  test("without a name, status lists every trial with what to do next", async () => {
    await write("spec.json", twoFactors);
    await call("lay-out", "spec.json", "--write", "experiments/listed");
    const { text } = await call("status");
    expect(text).toMatch(/listed\s+measured\s+0 of 8\s+cut 8 runs/);
  });
});
