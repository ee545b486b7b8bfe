import { parseTrialSpec } from "../../src/trial/index.ts";
import type { AsCut, Reading, Settings, Trial } from "../../src/trial/index.ts";

export interface MadeRun {
  readonly settings: Settings;
  readonly block?: number;
  /** One list a spot, one number a repeat at the spot. */
  readonly spots: readonly (readonly number[])[];
}

export interface MadeOptions {
  readonly factors: readonly Readonly<Record<string, unknown>>[];
  readonly response?: Readonly<Record<string, unknown>>;
  readonly more?: Readonly<Record<string, unknown>>;
  readonly asCut?: readonly AsCut[];
}

/** A trial held in memory, its readings of Ra in µm. */
export function madeTrial(
  runs: readonly MadeRun[],
  { factors, response, more = {}, asCut = [] }: MadeOptions,
): Trial {
  const spec = parseTrialSpec(
    {
      format: "trycut-trial/1",
      title: "Made for a test",
      question: "What moves Ra?",
      dataKind: "invented",
      source: "",
      display: "metric",
      factors,
      responses: [response ?? { name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
      layout: { kind: "given" },
      held: {},
      ...more,
    },
    "trial.json",
  );
  const readings = runs.flatMap(({ spots }, r) =>
    spots.flatMap((repeats, s) =>
      repeats.map((value, k): Reading => ({
        run: r + 1,
        response: "Ra",
        value,
        unit: "µm",
        spot: s + 1,
        repeat: k + 1,
        taken: "",
        note: "",
        void: "",
      })),
    ),
  );
  return {
    name: "made",
    spec,
    runs: runs.map(({ settings, block = 1 }, r) => ({
      run: r + 1,
      standard: r + 1,
      block,
      role: "given",
      settings,
    })),
    asCut,
    readings,
    checksum: "",
  };
}

/** The factor feed from 0.08 to 0.24 mm/rev, set in steps of 0.01. */
export const feed = {
  name: "feed",
  kind: "quantity",
  unit: "mm/rev",
  low: 0.08,
  high: 0.24,
  increment: 0.01,
};
/** The factor edge, fresh or used. */
export const edge = { name: "edge", kind: "category", levels: ["fresh", "used"] };
