import type { Effect, Fit, FittedRow, ObservedFactor, Prediction } from "../../src/model/index.ts";
import type { Setting } from "../../src/trial/index.ts";

/** One run of a hand-made fit. */
export interface HandMadeRun {
  readonly settings: Readonly<Record<string, Setting>>;
  readonly single: readonly number[];
  readonly block?: number;
}

export interface HandMadeOptions {
  readonly response?: { readonly name: string; readonly unit: string };
  readonly factors: readonly ObservedFactor[];
  readonly runs: readonly HandMadeRun[];
  /** The columns of the model at these settings, intercept first. */
  readonly columns: (settings: Readonly<Record<string, Setting>>) => readonly number[];
  readonly logScale?: boolean;
  /** Stands in for the t quantile; null makes a fit without intervals. */
  readonly t?: number | null;
  readonly effects?: readonly Effect[];
}

export const feed: ObservedFactor = {
  name: "feed",
  kind: "quantity",
  unit: "mm/rev",
  levels: [],
  low: 0.08,
  high: 0.24,
  scale: "linear",
};
export const speed: ObservedFactor = {
  name: "speed",
  kind: "quantity",
  unit: "m/min",
  levels: [],
  low: 150,
  high: 300,
  scale: "linear",
};
export const edge: ObservedFactor = {
  name: "edge",
  kind: "category",
  unit: "",
  levels: ["fresh", "used"],
  low: -1,
  high: 1,
  scale: "linear",
};

/**
 * A fit made here from normal equations, so that figures are tested apart from the project's own least squares. Plain and slow;
 * good enough for a handful of well-spaced columns.
 */
export function handMadeFit(options: HandMadeOptions): Fit {
  const {
    response = { name: "Ra", unit: "µm" },
    factors,
    runs,
    columns,
    logScale = false,
    t = 2.2,
    effects = [],
  } = options;
  const values = runs.map(({ single }) =>
    average(single.map((value) => (logScale ? Math.log(value) : value))),
  );
  const rows = runs.map(({ settings }) => columns(settings));
  const inverse = inverted(rows);
  const coefficients = inverse.map((line) =>
    line.reduce(
      (sum, weight, j) =>
        sum + weight * rows.reduce((total, row, i) => total + (row[j] ?? 0) * (values[i] ?? 0), 0),
      0,
    ),
  );
  const fittedAt = (row: readonly number[]): number =>
    row.reduce((sum, value, j) => sum + value * (coefficients[j] ?? 0), 0);
  const spread = (row: readonly number[]): number =>
    row.reduce(
      (sum, a, i) => sum + a * row.reduce((inner, b, j) => inner + b * (inverse[i]?.[j] ?? 0), 0),
      0,
    );
  const df = rows.length - (rows[0]?.length ?? 0);
  const noInterval = t === null || df < 1 ? "every run is used up by the model; cut a replicate." : "";
  const sd =
    noInterval === ""
      ? Math.sqrt(rows.reduce((sum, row, i) => sum + ((values[i] ?? 0) - fittedAt(row)) ** 2, 0) / df)
      : null;
  const back = (value: number): number => (logScale ? Math.exp(value) : value);

  const predict = (at: Readonly<Record<string, Setting>>): Prediction => {
    const full = Object.fromEntries(
      factors.map((factor) => [factor.name, at[factor.name] ?? middleOf(factor)]),
    );
    const row = columns(full);
    const centre = fittedAt(row);
    const interval = (variance: number): { low: number; high: number } | null => {
      if (sd === null || t === null) return null;
      const half = t * sd * Math.sqrt(variance);
      return { low: back(centre - half), high: back(centre + half) };
    };
    return {
      at: full,
      estimate: back(centre),
      mean: interval(spread(row)),
      single: interval(1 + spread(row)),
      confidence: 0.95,
      extrapolation: [],
      text: "",
    };
  };

  const fittedRows = runs.map(({ settings, single, block = 1 }, i): FittedRow => {
    const row = rows[i] ?? [];
    const residual = (values[i] ?? 0) - fittedAt(row);
    const leverage = spread(row);
    return {
      run: i + 1,
      order: i + 1,
      block,
      settings,
      value: values[i] ?? 0,
      readings: single.length,
      single,
      fitted: fittedAt(row),
      residual,
      leverage,
      studentised: sd === null || sd === 0 ? null : residual / (sd * Math.sqrt(1 - leverage)),
      cookDistance: null,
    };
  });

  return {
    kind: logScale ? "power-law" : "linear",
    model: "given",
    response,
    factors,
    confidence: 0.95,
    logScale,
    throughOrigin: false,
    scale: "natural",
    blocks: null,
    weights: null,
    terms: [],
    coefficients: [],
    covariance: null,
    residualSd: sd,
    residualDf: df,
    noInterval,
    rSquared: null,
    rSquaredAdjusted: null,
    analysis: [],
    analysisLast: [],
    lackOfFit: null,
    noLackOfFit: "not asked for",
    curvature: null,
    surface: null,
    secondDegree: null,
    unreplicated: null,
    inseparable: [],
    effects,
    rows: fittedRows,
    repeats: null,
    notes: [],
    predict,
    recipes: () => {
      throw new Error("a fit made by hand has no recipes");
    },
    change: () => {
      throw new Error("a fit made by hand tells no changes");
    },
    ratio: () => ({ estimate: null, reason: "not made by hand", text: "not made by hand" }),
  };
}

/** An effect as the model would tell it, in few words. */
export function handMadeEffect(
  factor: ObservedFactor,
  value:
    | { readonly estimate: number; readonly low: number; readonly high: number }
    | { readonly estimate: number | null; readonly reason: string },
  as: "difference" | "ratio" = "difference",
): Effect {
  const from = factor.kind === "category" ? (factor.levels[0] ?? "") : factor.low;
  const to = factor.kind === "category" ? (factor.levels[1] ?? "") : factor.high;
  const told = "low" in value ? `${value.estimate} (95 % ${value.low} to ${value.high})` : value.reason;
  return {
    factor: factor.name,
    from,
    to,
    as,
    value: "low" in value ? { ...value, confidence: 0.95, text: told } : { ...value, text: told },
    p: null,
    pAll: null,
    sentence: `Changing ${factor.name} from ${from} to ${to} moves Ra by ${told}.`,
  };
}

/** A sweep of feed, three readings a run, invented. */
export const sweepRuns: readonly HandMadeRun[] = [
  [0.08, [0.52, 0.55, 0.5]],
  [0.24, [1.92, 1.85, 1.99]],
  [0.12, [0.71, 0.74, 0.69]],
  [0.16, [1.05, 1.01, 1.1]],
  [0.2, [1.41, 1.46, 1.36]],
  [0.12, [0.78, 0.75, 0.8]],
  [0.24, [1.83, 1.9, 1.78]],
  [0.08, [0.49, 0.47, 0.53]],
  [0.2, [1.5, 1.47, 1.55]],
  [0.16, [1.12, 1.08, 1.15]],
].map(([at, single]) => ({ settings: { feed: at as number }, single: single as number[] }));

export function sweepFit(options: Partial<HandMadeOptions> = {}): Fit {
  return handMadeFit({
    factors: [feed],
    runs: sweepRuns,
    columns: ({ feed: at }) => [1, Number(at), Number(at) ** 2],
    ...options,
  });
}

/** Feed, speed and edge, each twice, two readings a run, invented: power law with a step for the edge. */
export const factorialRuns: readonly HandMadeRun[] = [0, 1].flatMap((again) =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((corner) => {
    const at = (corner * 5 + again * 3) % 8;
    const settings = {
      feed: at & 1 ? 0.24 : 0.08,
      speed: at & 2 ? 300 : 150,
      edge: at & 4 ? "used" : "fresh",
    };
    const level =
      14 * settings.feed ** 1.35 * settings.speed ** -0.12 * (settings.edge === "used" ? 1.22 : 1);
    const wobble = 1 + 0.05 * Math.sin(corner * 7.3 + again * 2.1);
    return {
      settings,
      block: again + 1,
      single: [round(level * wobble * 1.02), round(level * wobble * 0.97)],
    };
  }),
);

export function factorialFit(options: Partial<HandMadeOptions> = {}): Fit {
  return handMadeFit({
    factors: [feed, speed, edge],
    runs: factorialRuns,
    logScale: true,
    columns: (at) => [
      1,
      Math.log(Number(at["feed"])),
      Math.log(Number(at["speed"])),
      at["edge"] === "used" ? 1 : 0,
    ],
    effects: [
      handMadeEffect(feed, { estimate: 4.4, low: 4.1, high: 4.7 }, "ratio"),
      handMadeEffect(speed, { estimate: 0.97, low: 0.9, high: 1.04 }, "ratio"),
      handMadeEffect(edge, { estimate: 1.22, low: 1.14, high: 1.31 }, "ratio"),
    ],
    ...options,
  });
}

function round(value: number): number {
  return Number(value.toFixed(3));
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function middleOf(factor: ObservedFactor): Setting {
  return factor.kind === "category" ? (factor.levels[0] ?? "") : (factor.low + factor.high) / 2;
}

/** (XᵀX)⁻¹ by Gauss and Jordan with pivoting. */
function inverted(rows: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const size = rows[0]?.length ?? 0;
  const table = Array.from({ length: size }, (_, i) => [
    ...Array.from({ length: size }, (__, j) =>
      rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0),
    ),
    ...Array.from({ length: size }, (__, j) => (i === j ? 1 : 0)),
  ]);
  for (let column = 0; column < size; column++) {
    let best = column;
    for (let i = column + 1; i < size; i++)
      if (Math.abs(table[i][column]) > Math.abs(table[best][column])) best = i;
    [table[column], table[best]] = [table[best], table[column]];
    const pivot = table[column][column];
    table[column] = table[column].map((value) => value / pivot);
    for (let i = 0; i < size; i++) {
      const times = table[i][column];
      if (i !== column) table[i] = table[i].map((value, j) => value - times * table[column][j]);
    }
  }
  return table.map((line) => line.slice(size));
}
