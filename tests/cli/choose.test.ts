import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { listeningTerminal } from "./terminal.ts";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-choose-"));
  await writeFile(
    join(folder, "spec.json"),
    JSON.stringify({
      title: "Sealing face",
      dataKind: "invented",
      factors: [
        { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 },
        { name: "speed", kind: "quantity", unit: "m/min", low: 120, high: 240 },
        { name: "coolant", kind: "category", levels: ["dry", "mist"] },
      ],
      responses: [{ name: "Ra", unit: "µm" }],
    }),
  );
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function call(...words: string[]) {
  const terminal = listeningTerminal(folder);
  const code = await runCommand(["choose", "spec.json", ...words], verbs, terminal);
  return { code, text: terminal.said.join("\n"), complaint: terminal.complaints.join("\n") };
}

test("puts layouts side by side in words, the recommended one first", async () => {
  const { code, text } = await call(
    "--stake",
    "which-matter",
    "--passes",
    "8",
    "--sigma",
    "0.05",
    "--effect",
    "0.1",
  );
  expect(code).toBe(0);
  expect(text).toContain("Which factors matter? Take the full factorial on two levels (8 runs).");
  expect(text).toContain("chance for 0.1 µm");
  expect(text).toContain("factorial: full factorial on two levels, 8 runs (recommended)");
});

test("gives the same choice as plain data", async () => {
  const { code, text } = await call("--stake", "which-matter", "--passes", "8", "--json");
  expect(code).toBe(0);
  expect(JSON.parse(text)).toMatchObject({
    stake: "which-matter",
    passes: 8,
    recommended: { id: "factorial" },
    sigma: { known: "unknown" },
  });
});

test("says how many passes would do, and what can be asked, where they are too few", async () => {
  const { code, text } = await call("--stake", "best-setting", "--passes", "3");
  expect(code).toBe(0);
  expect(text).toContain("3 passes are too few for this question:");
  expect(text).toContain("With 3 passes you can ask:");
});

test("--write makes the trial with the layout that was taken", async () => {
  const { code, text } = await call(
    "--stake",
    "which-matter",
    "--passes",
    "8",
    "--write",
    "experiments/face",
  );
  expect(code).toBe(0);
  expect(text).toContain("Written:");
  const spec = JSON.parse(await readFile(join(folder, "experiments/face/trial.json"), "utf8")) as object;
  expect(spec).toMatchObject({ title: "Sealing face", layout: { kind: "factorial", seed: 1 } });
  const plan = await readFile(join(folder, "experiments/face/plan.csv"), "utf8");
  expect(plan.trim().split("\n")).toHaveLength(9);
});

test("takes a usual reading in place of σ", async () => {
  const { text } = await call(
    "--stake",
    "which-matter",
    "--passes",
    "8",
    "--typical",
    "0.8",
    "--effect",
    "0.2",
    "--json",
  );
  expect(JSON.parse(text)).toMatchObject({ sigma: { known: "range", low: 0.04, high: 0.16 } });
});

test.each([
  [["--passes", "8"], 2, "--stake is needed"],
  [
    ["--stake", "all", "--passes", "8"],
    2,
    "--stake all: expected one of which-matter, how-they-combine, how-curved, best-setting.",
  ],
  [["--stake", "which-matter"], 2, "--passes is needed: how many passes are at hand, such as --passes 12."],
  [
    ["--stake", "which-matter", "--passes", "2.5"],
    1,
    "passes: 2.5; expected a whole number from 1 to 1,000.",
  ],
  [
    ["--stake", "which-matter", "--passes", "8", "--sigma-from", "1"],
    2,
    "--sigma-from and --sigma-to belong together: give both, or --sigma.",
  ],
  [
    ["--stake", "which-matter", "--passes", "8", "--sigma", "1", "--typical", "2"],
    2,
    "Give one of --sigma, --sigma-from with --sigma-to, and --typical.",
  ],
  [["--stake", "which-matter", "--passes", "8", "--take", "factorial"], 2, "Give --write DIR as well."],
  [
    ["--stake", "which-matter", "--passes", "8", "--take", "spiral", "--write", "x"],
    1,
    "--take spiral: expected one of factorial",
  ],
])("refuses %j", async (words, code, complaint) => {
  const said = await call(...words);
  expect(said.complaint).toContain(complaint);
  expect(said.code).toBe(code);
});

test("a line of detail keeps its indent where it is broken, and the columns are explained", async () => {
  const { text } = await call("--stake", "which-matter", "--passes", "16", "--sigma", "0.05");
  const details = text.split("\n").filter((line) => /^ *[+−] /.test(line));
  expect(details.length).toBeGreaterThan(3);
  for (const line of details) expect(line).toMatch(/^ {2}[+−] /);
  expect(text).toContain("Known to: half the width of the interval of the effect of a factor");
});

test("a ratio of variances between set-ups and runs is taken, and one that can't be is refused", async () => {
  const words = ["--stake", "which-matter", "--passes", "16"];
  expect((await call(...words, "--variance-ratio", "2")).code).toBe(0);
  const { code, complaint } = await call(...words, "--variance-ratio=-1");
  expect(code).not.toBe(0);
  expect(complaint).toContain("variance between set-ups");
});
