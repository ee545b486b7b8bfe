import { parseTrialSpec, type Reading, type Settings, type Trial } from "../../src/trial/index.ts";

/** A trial made in memory: one run a row of settings, with the readings that stand beside it. */
export function madeTrial(
  rows: readonly {
    readonly settings: Settings;
    readonly readings?: readonly number[];
    readonly block?: number;
  }[],
  { spec = {} }: { spec?: Readonly<Record<string, unknown>> } = {},
): Trial {
  const feeds = rows.map(({ settings }) => settings["feed"]);
  const readings: Reading[] = rows.flatMap(({ readings: values = [] }, index) =>
    values.map((value, place) => ({
      run: index + 1,
      response: "Ra",
      value,
      unit: "µm",
      spot: place + 1,
      repeat: 1,
      taken: "",
      note: "",
      void: "",
    })),
  );
  return {
    name: "made",
    spec: parseTrialSpec({
      dataKind: "invented",
      factors: [
        {
          name: "feed",
          kind: "quantity",
          unit: "mm/rev",
          low: Math.min(...feeds.map(Number)),
          high: Math.max(...feeds.map(Number)),
          scale: "log",
        },
        { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000 },
        { name: "edge", kind: "category", levels: ["fresh", "used"] },
      ],
      responses: [{ name: "Ra", unit: "µm", limit: 0.8 }],
      layout: { kind: "given" },
      ...spec,
    }),
    runs: rows.map(({ settings, block = 1 }, index) => ({
      run: index + 1,
      standard: index + 1,
      block,
      role: "given",
      settings: { speed: 1500, edge: "used", ...settings },
    })),
    asCut: [],
    readings,
    checksum: "",
  };
}

/** Ra of a pure power law, with a stated factor of scatter. */
export const cusp = (feed: number, scatter = 1): number => 0.5 * (feed / 0.14) ** 1.2 * scatter;
