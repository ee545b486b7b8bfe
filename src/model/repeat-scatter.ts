import type { RepeatScatter } from "./observations.ts";

/** One reading with the surface it was taken on: `group` names the setting (and block), `run` the surface, `spot` the place on it. */
export interface PlacedReading {
  readonly group: string;
  readonly run: number;
  readonly spot: number;
  readonly value: number;
}

interface Part {
  readonly sumOfSquares: number;
  readonly df: number;
}

interface Cell {
  readonly n: number;
  readonly mean: number;
}

/**
 * How much of the scatter of single readings is the repeat at a spot, the spot on a surface, and the run: the nested analysis of
 * variance by mean squares, with the coefficients for unequal numbers (Searle, Casella and McCulloch, *Variance Components*, 1992,
 * section 3.6; from memory). A part that comes out below zero is given as zero, and a note says so.
 * Returns null where every run has a single reading. Values are taken as they are: pass logarithms for the log scale.
 * Example: two runs at one setting with readings 1, 3 and 5, 7: within 2 (mean square), between 16; the run's part is (16 − 2)/2 = 7,
 * shares 2/9 and 7/9.
 */
export function repeatScatter(
  readings: readonly PlacedReading[],
  options: { logScale?: boolean } = {},
): RepeatScatter | null {
  const { logScale = false } = options;
  const byRun = grouped(readings, (reading) => String(reading.run));
  if (byRun.every((run) => run.length < 2)) return null;
  const bySpot = byRun.map((run) => grouped(run, (reading) => String(reading.spot)));
  const within = pooled(bySpot.flat());
  const spots = between(bySpot.map((run) => run.map(cell)));
  const byGroup = grouped(
    byRun.map((run) => ({ key: run[0].group, ...cell(run) })),
    (run) => run.key,
  );
  const runs = between(byGroup);
  const notes: string[] = [];

  // Coefficients of the spot's and the run's variance in the expected mean squares, for unequal numbers of readings.
  const spotsPerRun = sum(bySpot.map((run) => squaresOverTotal(run.map(cell))));
  const spotsPerGroup = sum(
    grouped(bySpot, (run) => run[0][0].group).map((group) => squaresOverTotal(group.flat().map(cell))),
  );

  const withinMean = within.df > 0 ? within.sumOfSquares / within.df : null;
  let spotVariance: number | null = null;
  if (spots.df > 0) {
    const unit = (spots.total - spotsPerRun) / spots.df;
    spotVariance = atLeastZero((spots.sumOfSquares / spots.df - (withinMean ?? 0)) / unit, "spot", notes);
    if (withinMean === null)
      notes.push("Each spot was read once, so the scatter from spot to spot holds the gauge's own.");
  }
  let runVariance: number | null = null;
  if (runs.df > 0) {
    const spotUnit = (spotsPerRun - spotsPerGroup) / runs.df;
    const runUnit = (runs.total - sum(byGroup.map((group) => squaresOverTotal(group)))) / runs.df;
    const explained = (withinMean ?? 0) + (spotVariance ?? 0) * spotUnit;
    runVariance = atLeastZero((runs.sumOfSquares / runs.df - explained) / runUnit, "run", notes);
  } else notes.push("No setting was cut twice, so the scatter from run to run can't be told.");

  const parts = [
    { source: "repeat" as const, variance: withinMean },
    { source: "spot" as const, variance: spotVariance },
    { source: "run" as const, variance: runVariance },
  ].filter((part): part is { source: "repeat" | "spot" | "run"; variance: number } => part.variance !== null);
  const whole = sum(parts.map((part) => part.variance));
  const withinRunDf = within.df + spots.df;
  return {
    readings: readings.length,
    runs: byRun.length,
    withinSpot: withinMean === null ? null : Math.sqrt(withinMean),
    withinSpotDf: within.df,
    betweenSpots: spotVariance === null ? null : Math.sqrt(spotVariance),
    betweenSpotsDf: spots.df,
    withinRun: withinRunDf === 0 ? null : Math.sqrt((within.sumOfSquares + spots.sumOfSquares) / withinRunDf),
    withinRunDf,
    betweenRuns: runVariance === null ? null : Math.sqrt(runVariance),
    betweenRunsDf: runs.df,
    shares:
      runVariance === null || whole === 0
        ? []
        : parts.map(({ source, variance }) => ({ source, share: variance / whole })),
    logScale,
    notes,
  };
}

/** Scatter of the cells' means about the mean of their group, weighted by readings. */
function between(groups: readonly (readonly Cell[])[]): Part & { readonly total: number } {
  let sumOfSquares = 0;
  let df = 0;
  for (const cells of groups) {
    const n = sum(cells.map((one) => one.n));
    const mean = sum(cells.map((one) => one.n * one.mean)) / n;
    sumOfSquares += sum(cells.map((one) => one.n * (one.mean - mean) ** 2));
    df += cells.length - 1;
  }
  return { sumOfSquares, df, total: sum(groups.flat().map((one) => one.n)) };
}

function pooled(cells: readonly (readonly PlacedReading[])[]): Part {
  let sumOfSquares = 0;
  let df = 0;
  for (const readings of cells) {
    const { mean } = cell(readings);
    sumOfSquares += sum(readings.map(({ value }) => (value - mean) ** 2));
    df += readings.length - 1;
  }
  return { sumOfSquares, df };
}

/** Σ n² / Σ n over the cells of one group. */
function squaresOverTotal(cells: readonly Cell[]): number {
  return sum(cells.map(({ n }) => n * n)) / sum(cells.map(({ n }) => n));
}

function cell(readings: readonly PlacedReading[]): Cell {
  return { n: readings.length, mean: sum(readings.map(({ value }) => value)) / readings.length };
}

function atLeastZero(variance: number, source: "spot" | "run", notes: string[]): number {
  if (variance >= 0) return variance;
  notes.push(
    source === "spot"
      ? "The scatter from spot to spot came out below zero by mean squares and is given as zero: the repeats alone explain it."
      : "The scatter from run to run came out below zero by mean squares and is given as zero: the scatter within runs alone explains it.",
  );
  return 0;
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
