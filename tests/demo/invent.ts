/*
 * Makes the invented trials of experiments/ again, from the true values in truth.ts and the seeds below: `npm run demo`.
 * An existing folder is left alone; delete it first.
 */
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { join } from "node:path";
import { checkLimits, layOut } from "../../src/layout/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { createTrial } from "../../src/store/index.ts";
import { parseTrialSpec, type Reading, type Run } from "../../src/trial/index.ts";
import { factorialSpec, plannedSpec, sweepSpec } from "./seal-face-trials.ts";
import { factorialTruth, sweepTruth, trueRaUm, type InventedSettings, type SealFaceTruth } from "./truth.ts";

/** Seeds of the scatter; the layouts have theirs in trial.json. */
export const sweepSeed = 1125;
export const factorialSeed = 20261125;

/** Readings of every run: `spots` places on the surface, `repeats` at each, rounded as a gauge shows them (0.001 µm). */
export function inventedReadings(
  truth: SealFaceTruth,
  runs: readonly Run[],
  { seed, spots, repeats }: { seed: number; spots: number; repeats: number },
): readonly Reading[] {
  const random = seededRandom(seed);
  const scatter = (standardDeviation: number) => Math.exp(standardDeviation * random.normal());
  const start = Date.UTC(2026, 10, 24, 8, 0);
  return runs.flatMap(({ run, settings }) => {
    // Settings of the invented trials have these names and no others; trial.json is checked before it comes here.
    const surface = trueRaUm(truth, settings as unknown as InventedSettings, run) * scatter(truth.runScatter);
    return Array.from({ length: spots }, (_, spot) => {
      const place = surface * scatter(truth.spotScatter);
      return Array.from({ length: repeats }, (_, repeat) => ({
        run,
        response: "Ra",
        value: Number((place * scatter(truth.repeatScatter)).toFixed(3)),
        unit: "µm",
        spot: spot + 1,
        repeat: repeat + 1,
        taken: new Date(start + (run * 6 + spot) * 60_000).toISOString(),
        note: "",
        void: "",
      }));
    }).flat();
  });
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
  await make("port-face-coolant", plannedSpec, () => []);
}
