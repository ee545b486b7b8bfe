import { extent } from "../numerics/index.ts";
import { listed } from "../units/index.ts";
import { readingsInUse, responseNamed, settingsAsCut } from "../trial/index.ts";
import type { Factor, Reading, Response, Settings, Trial } from "../trial/index.ts";
import { modelError } from "./error.ts";
import type { Observation, Observations, ObservedFactor } from "./observations.ts";
import { repeatScatter } from "./repeat-scatter.ts";
import type { PlacedReading } from "./repeat-scatter.ts";

/** How `observe` turns readings into rows. */
export interface ObserveOptions {
  /** True takes the mean of the natural logarithms of a run's readings. Default false. */
  readonly log?: boolean;
}

/**
 * One row for each run that has a reading in use: the mean of its readings in the response's unit, at the settings as they were
 * cut. Repeats on one surface are averaged, since only fresh runs are replicates; their scatter is kept in `repeats`.
 * `response` may be left out where the trial has one response. Refuses an unknown response, a trial without readings of it, and
 * the logarithm of a reading that is zero or less (named with its run).
 * Example: run 1 with readings 0.8 and 0.9 µm becomes one row of 0.85 µm with `readings` 2.
 */
export function observe(trial: Trial, response?: string, options: ObserveOptions = {}): Observations {
  const { log = false } = options;
  const wanted = wantedResponse(trial, response);
  const byRun = new Map<number, Reading[]>();
  for (const reading of readingsInUse(trial, wanted.name)) {
    const list = byRun.get(reading.run);
    if (list === undefined) byRun.set(reading.run, [reading]);
    else list.push(reading);
  }
  const blockCount = new Set(trial.runs.map((run) => run.block)).size;
  const rows: Observation[] = [];
  const placed: PlacedReading[] = [];
  for (const run of [...trial.runs].sort((a, b) => a.run - b.run)) {
    const readings = byRun.get(run.run);
    if (readings === undefined) continue;
    const settings = settingsAsCut(trial, run);
    const single = readings.map((reading) => reading.value);
    const scaled = log ? single.map((value, i) => logarithm(value, readings[i])) : single;
    const group = settingsKey(settings, blockCount > 1 ? run.block : 0);
    readings.forEach((reading, i) =>
      placed.push({ group, run: run.run, spot: reading.spot, value: scaled[i] }),
    );
    rows.push({
      run: run.run,
      order: run.run,
      block: run.block,
      settings,
      value: mean(scaled),
      readings: single.length,
      single,
    });
  }
  if (rows.length === 0) {
    throw modelError(
      `no reading in use of ${wanted.name} in ${trial.name}`,
      "readings on at least one run",
      "Record readings first.",
    );
  }
  const repeats = repeatScatter(placed, { logScale: log });
  return {
    response: { name: wanted.name, unit: wanted.unit },
    factors: trial.spec.factors.map(observedFactor),
    rows,
    repeats,
    logScale: log,
    notes: averagedNote(rows),
    ...(blockCount > 1 ? { blocks: { name: "block", levels: blockNames(trial) } } : {}),
  };
}

/** Settings (and block) that are the same to the last digit give the same key: rows with one key are exact replicates. */
export function settingsKey(settings: Settings, block: number): string {
  return JSON.stringify([block, ...Object.entries(settings).sort(([a], [b]) => (a < b ? -1 : 1))]);
}

/** Says what was averaged; nothing where every row is one reading. */
export function averagedNote(rows: readonly Observation[]): readonly string[] {
  const readings = rows.reduce((total, row) => total + row.readings, 0);
  if (readings === rows.length) return [];
  return [`${readings} readings on ${rows.length} runs: readings of one run are repeats and were averaged.`];
}

export function mean(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total / values.length;
}

function wantedResponse(trial: Trial, name: string | undefined): Response {
  if (name !== undefined) return responseNamed(trial.spec, name);
  const [first, ...others] = trial.spec.responses;
  if (first !== undefined && others.length === 0) return first;
  const names = trial.spec.responses.map((response) => response.name);
  throw modelError("no response named", `one of ${listed(names, "or")}`, "Name the response to fit.");
}

function observedFactor(factor: Factor): ObservedFactor {
  return factor.kind === "quantity"
    ? {
        name: factor.name,
        kind: "quantity",
        unit: factor.unit,
        levels: [],
        low: factor.low,
        high: factor.high,
        scale: factor.scale,
        ...(factor.increment === undefined ? {} : { increment: factor.increment }),
      }
    : {
        name: factor.name,
        kind: "category",
        unit: "",
        levels: factor.levels,
        low: -1,
        high: 1,
        scale: "linear",
      };
}

function blockNames(trial: Trial): readonly string[] {
  const last = extent(trial.runs.map((run) => run.block))[1];
  return Array.from({ length: last }, (_, i) => String(i + 1));
}

function logarithm(value: number, reading: Reading): number {
  if (value > 0) return Math.log(value);
  throw modelError(
    `run ${reading.run}: ${reading.response} ${reading.value} ${reading.unit}, of which there is no logarithm`,
    "readings above zero",
    "Void the reading with its reason, or fit without the logarithm.",
  );
}
