import { join } from "node:path";
import { layOut } from "../../src/layout/index.ts";
import { createTrial, record } from "../../src/store/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { benchUnderTest, newProject, type BenchUnderTest } from "./bench-under-test.ts";

/** A small trial of our own: two feeds, two edges, each in duplicate. */
export const trialJson = {
  title: "Pump cover, sealing face",
  question: "What moves Ra?",
  dataKind: "invented",
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 },
    { name: "edge", kind: "category", levels: ["fresh", "used"] },
  ],
  responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
  layout: { kind: "factorial", replicates: 2, seed: 7 },
  held: { depth: "0.1 mm" },
};

function specWith(replicates: number) {
  return parseTrialSpec({ ...trialJson, layout: { ...trialJson.layout, replicates } });
}

/** A bench on a project that holds the trial as "seal-face", laid out and not cut. */
export async function withTrial({ replicates = 2 } = {}): Promise<BenchUnderTest> {
  const root = await newProject();
  const spec = specWith(replicates);
  await createTrial(join(root, "experiments"), "seal-face", spec, layOut(spec).runs);
  return benchUnderTest({ root });
}

/** The same, every run read once: Ra = 4 · feed, a quarter more with a used edge, and a little scatter by run. */
export async function withReadTrial({ replicates = 2 } = {}): Promise<BenchUnderTest> {
  const under = await withTrial({ replicates });
  const spec = specWith(replicates);
  const readings = layOut(spec).runs.map(({ run, settings }) => {
    const ideal = 4 * Number(settings["feed"]) * (settings["edge"] === "used" ? 1.25 : 1);
    return { run, response: "Ra", value: (ideal * (run % 2 === 0 ? 1.03 : 0.97)).toFixed(3) };
  });
  await record(join(under.root, "experiments", "seal-face"), readings, { force: "invented" });
  return under;
}

export async function answer<Answer>(response: Response): Promise<Answer> {
  return (await response.json()) as Answer;
}

/** A trial with limits on two responses, an increment for each quantity, and all that a removal rate needs; invented. */
const twoLimitsJson = {
  title: "Pump cover, two limits (invented)",
  question: "How fast may it be cut?",
  dataKind: "invented",
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, increment: 0.01 },
    { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000, increment: 100 },
    { name: "edge", kind: "category", levels: ["fresh", "used"] },
  ],
  responses: [
    { name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 },
    { name: "flatness", unit: "µm", aim: "smaller" },
  ],
  layout: { kind: "factorial", replicates: 2, seed: 7 },
  held: { depth: "0.1 mm" },
  cutter: { diameter: "80 mm", noseRadius: "0.8 mm", teeth: 1, maxSpeed: "8000 rev/min" },
  pass: { length: "180 mm", width: "60 mm" },
};

/** A bench on a project that holds it as "two-limits": Ra = 4 · feed, flatness = 2 + speed/500, with a little scatter by run. */
export async function withTwoLimits(): Promise<BenchUnderTest> {
  const root = await newProject();
  const spec = parseTrialSpec(twoLimitsJson);
  const { runs } = layOut(spec);
  await createTrial(join(root, "experiments"), "two-limits", spec, runs);
  const readings = runs.flatMap(({ run, settings }) => [
    { run, response: "Ra", value: (4 * Number(settings["feed"]) * (1 + 0.02 * wobble(run))).toFixed(3) },
    {
      run,
      response: "flatness",
      value: (2 + Number(settings["speed"]) / 500 + 0.05 * wobble(run + 3)).toFixed(3),
    },
  ]);
  await record(join(root, "experiments", "two-limits"), readings, { force: "invented" });
  return benchUnderTest({ root });
}

/** −1, 0 or 1 by run, as good as unrelated to any factor. */
function wobble(run: number): number {
  return ((run * 7) % 3) - 1;
}
