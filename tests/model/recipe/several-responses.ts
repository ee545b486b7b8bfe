import { fitLinear, fitPowerLaw, observeTable, type Fit, type ModelKind } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { parseTrialSpec, type Trial } from "../../../src/trial/index.ts";

/** Invented laws of finish and power over up to four quantities: what the tests' fits are drawn from. */
export const laws = {
  Ra: ({ feed = 0.15, speed = 1000, depth = 0.3, width = 40 }) =>
    9 * feed ** 1.3 * (speed / 1000) ** -0.25 * (depth / 0.3) ** 0.1 * (width / 40) ** 0.05,
  power: ({ feed = 0.15, speed = 1000, depth = 0.3, width = 40 }) =>
    2.4 * (feed / 0.15) ** 0.8 * (speed / 1000) * (depth / 0.3) * (width / 40),
} as const;

export const quantities = {
  feed: { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, increment: 0.01 },
  speed: { name: "speed", kind: "quantity", unit: "rev/min", low: 600, high: 1400, increment: 50 },
  depth: { name: "depth", kind: "quantity", unit: "mm", low: 0.1, high: 0.5, increment: 0.05 },
  width: { name: "width", kind: "quantity", unit: "mm", low: 20, high: 60, increment: 5 },
} as const;

export interface DrawnOptions {
  readonly factors?: readonly (keyof typeof quantities)[];
  readonly model?: ModelKind;
  readonly scatter?: number;
  readonly seed?: number;
  readonly more?: Readonly<Record<string, unknown>>;
}

/** Corners, face middles and two middles of a cube, cut once each with a scatter of ratios, and the fits of both responses. */
export function drawnTrial(options: DrawnOptions = {}): {
  readonly trial: Trial;
  readonly fits: readonly Fit[];
} {
  const { factors = ["feed", "speed"], model = "power-law", scatter = 0.05, seed = 1, more = {} } = options;
  const spec = parseTrialSpec(
    {
      format: "trycut-trial/1",
      title: "Drawn for a test",
      question: "How fast within both limits?",
      dataKind: "invented",
      source: "",
      display: "metric",
      factors: factors.map((name) => quantities[name]),
      responses: [
        { name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 },
        { name: "power", unit: "kW", aim: "smaller", limit: 3 },
      ],
      layout: { kind: "given" },
      held: {
        ...(factors.includes("depth") ? {} : { depth: "0.3 mm" }),
        ...(factors.includes("speed") ? {} : { speed: "1000 rev/min" }),
      },
      cutter: { diameter: "80 mm", teeth: 1 },
      pass: { length: "200 mm", ...(factors.includes("width") ? {} : { width: "40 mm" }), kind: "milling" },
      ...more,
    },
    "trial.json",
  );
  const trial: Trial = { name: "drawn", spec, runs: [], asCut: [], readings: [], checksum: "" };
  const random = seededRandom(seed);
  const columns = cube(factors.length).map((coded) =>
    Object.fromEntries(
      factors.map((name, i) => {
        const { low, high } = quantities[name];
        return [name, Number(((low + high) / 2 + ((high - low) / 2) * coded[i]).toPrecision(6))];
      }),
    ),
  );
  const fits = (["Ra", "power"] as const).map((response) => {
    const observations = observeTable(
      {
        columns: [
          ...factors.map((name) => ({
            name,
            unit: quantities[name].unit,
            values: columns.map((settings) => settings[name] ?? 0),
          })),
          {
            name: response,
            unit: response === "Ra" ? "µm" : "kW",
            values: columns.map((settings) => laws[response](settings) * Math.exp(scatter * random.normal())),
          },
        ],
      },
      { response, factors: [...factors] },
    );
    return model === "power-law" ? fitPowerLaw(observations) : fitLinear(observations, { model, log: true });
  });
  return { trial, fits };
}

function cube(size: number): readonly (readonly number[])[] {
  const corners = Array.from({ length: 2 ** size }, (_, bits) =>
    Array.from({ length: size }, (__, i) => (((bits >> i) & 1) === 1 ? 1 : -1)),
  );
  const faces = Array.from({ length: 2 * size }, (_, k) =>
    Array.from({ length: size }, (__, i) => (i === k >> 1 ? (k % 2 === 0 ? -1 : 1) : 0)),
  );
  const middle = new Array<number>(size).fill(0);
  return [...corners, ...faces, middle, middle];
}
