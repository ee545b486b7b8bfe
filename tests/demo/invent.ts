/*
 * Makes the invented trials of experiments/ again, from the true values and seeds in truth.ts, further-trials.ts and below: `npm run demo`.
 * An existing folder is left alone; delete it first.
 */
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { join } from "node:path";
import { checkLimits, layOut } from "../../src/layout/index.ts";
import { createTrial } from "../../src/store/index.ts";
import { parseTrialSpec, type Reading, type Run } from "../../src/trial/index.ts";
import { edgesSeed, edgesSpec, edgesTruth, inventedEdgeReadings } from "./edges-trial.ts";
import { furtherTrials } from "./further-trials.ts";
import { recipeTrial } from "./recipe-trial.ts";
import { scatteredReadings } from "./readings.ts";
import { setUpsTrial } from "./set-ups-trial.ts";
import { factorialSpec, plannedSpec, sweepSpec } from "./seal-face-trials.ts";
import { factorialTruth, sweepTruth, trueRaUm, type InventedSettings, type SealFaceTruth } from "./truth.ts";

/** Seeds of the scatter; the layouts have theirs in trial.json. */
export const sweepSeed = 1125;
export const factorialSeed = 20261125;

/** Ra of every run of a seal-face trial: `spots` places on the surface, `repeats` at each, as a gauge shows them (0.001 µm). */
export function inventedReadings(
  truth: SealFaceTruth,
  runs: readonly Run[],
  { seed, spots, repeats }: { seed: number; spots: number; repeats: number },
): readonly Reading[] {
  const { runScatter, spotScatter, repeatScatter } = truth;
  return scatteredReadings(
    runs,
    {
      response: "Ra",
      unit: "µm",
      decimals: 3,
      // Settings of the invented trials have these names and no others; trial.json is checked before it comes here.
      truth: (settings, run) => trueRaUm(truth, settings as unknown as InventedSettings, run),
    },
    { seed, spots, repeats, runScatter, spotScatter, repeatScatter },
  );
}

async function make(
  name: string,
  spec: unknown,
  readingsOf: (runs: readonly Run[]) => readonly Reading[],
): Promise<void> {
  const root = fileURLToPath(new URL("../../experiments", import.meta.url));
  if (existsSync(join(root, name))) {
    console.log(`${name}: is there already`);
    return;
  }
  const parsed = parseTrialSpec(spec, name);
  const { runs } = layOut(parsed);
  checkLimits(parsed, runs);
  const readings = readingsOf(runs);
  await createTrial(root, name, spec, runs, { readings, now: () => new Date("2026-11-25T08:00:00Z") });
  console.log(`${name}: ${runs.length} runs, ${readings.length} readings`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await make("seal-face-feed-sweep", sweepSpec, (runs) =>
    inventedReadings(sweepTruth, runs, { seed: sweepSeed, spots: 1, repeats: 1 }),
  );
  await make("seal-face-factorial", factorialSpec, (runs) =>
    inventedReadings(factorialTruth, runs, { seed: factorialSeed, spots: 3, repeats: 2 }),
  );
  await make("cover-edge-comparison", edgesSpec, (runs) =>
    inventedEdgeReadings(edgesTruth, runs, { seed: edgesSeed }),
  );
  await make("port-face-coolant", plannedSpec, () => []);
  for (const { name, spec, invented, scattered } of [...furtherTrials, setUpsTrial]) {
    await make(name, spec, (runs) => scatteredReadings(runs, invented, scattered));
  }
  await make(recipeTrial.name, recipeTrial.spec, recipeTrial.readings);
}
