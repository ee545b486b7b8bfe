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
