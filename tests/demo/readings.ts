import { seededRandom } from "../../src/numerics/index.ts";
import type { Reading, Run, Settings } from "../../src/trial/index.ts";

/** How often a run is read, and how much the values scatter: standard deviations of natural logarithms. */
export interface Scattered {
  readonly seed: number;
  readonly spots: number;
  readonly repeats: number;
  readonly runScatter: number;
  readonly spotScatter: number;
  readonly repeatScatter: number;
}

/** What is read, and its true value for a run before any scatter. `decimals` is what the gauge shows. */
export interface Invented {
  readonly response: string;
  readonly unit: string;
  readonly decimals: number;
  readonly truth: (settings: Settings, run: number) => number;
}

/** Readings of every run: `spots` places on the surface, `repeats` at each, rounded as a gauge shows them. */
export function scatteredReadings(
  runs: readonly Run[],
  { response, unit, decimals, truth }: Invented,
  { seed, spots, repeats, runScatter, spotScatter, repeatScatter }: Scattered,
): readonly Reading[] {
  const random = seededRandom(seed);
  const scatter = (standardDeviation: number) => Math.exp(standardDeviation * random.normal());
  const start = Date.UTC(2026, 10, 24, 8, 0);
  return runs.flatMap(({ run, settings }) => {
    const surface = truth(settings, run) * scatter(runScatter);
    return Array.from({ length: spots }, (_, spot) => {
      const place = surface * scatter(spotScatter);
      return Array.from({ length: repeats }, (_unused, repeat) => ({
        run,
        response,
        value: Number((place * scatter(repeatScatter)).toFixed(decimals)),
        unit,
        spot: spot + 1,
        repeat: repeat + 1,
        taken: new Date(start + (run * 6 + spot) * 60_000).toISOString(),
        note: "",
        void: "",
      }));
    }).flat();
  });
}
