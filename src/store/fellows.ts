import { medianSorted } from "simple-statistics";
import { settingsAsCut, type Reading, type Trial } from "../trial/index.ts";
import { isUnit } from "../units/index.ts";
import { inUnitOf } from "./number-field.ts";
import { expectedFromRuns } from "./expected-from-runs.ts";
import { keyText } from "./reading-key.ts";

/** What the readings around one reading lead to expect of it. Values in the response's unit. */
export interface Expectation {
  /** Among which readings it was looked for. */
  readonly among: "spot" | "run" | "settings" | "trial";
  readonly middle: number;
  readonly low: number;
  readonly high: number;
  /** Robust standard deviation of a reading about the middle, of logarithms; null where too few readings tell. */
  readonly logScatter: number | null;
}

/** A reading to be judged, its value in the response's unit, with its place among the given ones. */
export interface Judged {
  readonly index: number;
  readonly reading: Reading;
  readonly value: number;
}

interface Group {
  /** Logarithms in rising order. */
  readonly logs: readonly number[];
  readonly values: readonly number[];
}

// A median of two says little; from three readings on the middle one is held by its neighbours.
const fewestFellows = 2;
const fewestForScatter = 8;
/** Makes the median absolute deviation of normal values their standard deviation: 1/Φ⁻¹(3/4). */
const normalConsistency = 1.482602218505602;

/**
 * For each reading of one response, what its fellows lead to expect: the others at its spot, else those of its run, else
 * those of runs at the same settings, else the runs at other settings by their main effects. All values must be above
 * zero. Null where there are too few others.
 */
export function expectations(
  trial: Pick<Trial, "spec" | "runs" | "asCut">,
  judged: readonly Judged[],
  all: readonly Judged[],
): readonly (Expectation | null)[] {
  const settings = new Map(trial.runs.map((run) => [run.run, JSON.stringify(settingsAsCut(trial, run))]));
  const spotOf = ({ reading }: Judged): string => `${reading.run}/${reading.spot}`;
  const runOf = ({ reading }: Judged): string => String(reading.run);
  const settingOf = ({ reading }: Judged): string => settings.get(reading.run) ?? "";
  const bySpot = groupsOf(all, spotOf);
  const byRun = groupsOf(all, runOf);
  // Runs at the same settings scatter more than the readings of one: there each run counts once, by its middle.
  const middles = [...byRun].map(([run, { logs }]) => middleOf(all, run, logs));
  const bySetting = groupsOf(middles, settingOf);
  const withinSpot = scatterWithin([...bySpot.values()]);
  const withinRun = scatterWithin([...byRun.values()]);
  const betweenRuns = scatterWithin([...bySetting.values()]);
  return judged.map((one) => {
    const own = middles.find(({ reading }) => reading.run === one.reading.run);
    return (
      among("spot", bySpot.get(spotOf(one)), one.value, withinSpot, 3) ??
      among("run", byRun.get(runOf(one)), one.value, withinRun, fewestFellows) ??
      among("settings", bySetting.get(settingOf(one)), own?.value ?? one.value, betweenRuns, fewestFellows) ??
      amongTrial(trial, one, all)
    );
  });
}

function middleOf(all: readonly Judged[], run: string, logs: readonly number[]): Judged {
  const reading = (all.find((one) => String(one.reading.run) === run) as Judged).reading; // the group is made of them
  return { index: -1, reading, value: Math.exp(medianSorted([...logs])) };
}

function groupsOf(all: readonly Judged[], keyOf: (one: Judged) => string): ReadonlyMap<string, Group> {
  const values = new Map<string, number[]>();
  for (const one of all) {
    const key = keyOf(one);
    const list = values.get(key);
    if (list === undefined) values.set(key, [one.value]);
    else list.push(one.value);
  }
  return new Map(
    [...values].map(([key, list]) => {
      const sorted = list.sort((a, b) => a - b);
      return [key, { values: sorted, logs: sorted.map(Math.log) }];
    }),
  );
}

/** The group without the value `own`; null where too few remain. */
function among(
  kind: Expectation["among"],
  group: Group | undefined,
  own: number,
  pooled: number | null,
  fewest: number,
): Expectation | null {
  if (group === undefined || group.logs.length <= fewest) return null;
  const at = group.values.indexOf(own);
  const logs = group.logs.filter((_, index) => index !== at);
  const values = group.values.filter((_, index) => index !== at);
  const ownScatter = logs.length >= fewestForScatter ? robustDeviation(logs) : null;
  const scatter =
    ownScatter === null || pooled === null ? (ownScatter ?? pooled) : Math.max(ownScatter, pooled);
  return {
    among: kind,
    middle: Math.exp(medianSorted([...logs])),
    low: values[0],
    high: values[values.length - 1],
    logScatter: scatter,
  };
}

function robustDeviation(sorted: readonly number[]): number {
  const middle = medianSorted([...sorted]);
  const apart = sorted.map((log) => Math.abs(log - middle)).sort((a, b) => a - b);
  return normalConsistency * medianSorted(apart);
}

/** Pooled over groups, each deviation from its own group's median made as large as it would be from the true middle. */
function scatterWithin(groups: readonly Group[]): number | null {
  const apart = groups.flatMap(({ logs }) => {
    if (logs.length < 2) return [];
    const middle = medianSorted([...logs]);
    const factor = factorOfSize(logs.length);
    const deviations = logs.map((log) => Math.abs(log - middle) * factor).sort((a, b) => a - b);
    // In a group of an odd number one reading is the median itself, and tells nothing.
    return logs.length % 2 === 1 ? deviations.slice(1) : deviations;
  });
  if (apart.length < fewestForScatter) return null;
  // A median of few deviations may lie far below the truth; wide is safe, for slips stand out all the same.
  return medianSorted(apart.sort((a, b) => a - b)) * (1 + 4 / apart.length);
}

/**
 * What makes the median of the deviations from the median of `size` normal values their standard deviation, the one zero
 * of an odd size left out. Fitted to a simulation of 800,000 values for each size from 2 to 36; within 2 %.
 */
function factorOfSize(size: number): number {
  return size % 2 === 1 ? 1.46 : normalConsistency * Math.min(1.41, 1 + 1.5 / size);
}

function amongTrial(
  trial: Pick<Trial, "spec" | "runs" | "asCut">,
  one: Judged,
  all: readonly Judged[],
): Expectation | null {
  const others = all.filter((other) => other !== one && keyText(other.reading) !== keyText(one.reading));
  const runs = new Map<number, number[]>();
  for (const { reading, value } of others) {
    runs.set(reading.run, [...(runs.get(reading.run) ?? []), Math.log(value)]);
  }
  if (runs.size < 3) return null;
  const middles = [...runs].map(([run, logs]) => ({ run, log: medianSorted(logs.sort((a, b) => a - b)) }));
  const sorted = others.map((other) => other.value).sort((a, b) => a - b);
  const [low, high] = [sorted[0], sorted[sorted.length - 1]];
  const fitted = expectedFromRuns(trial, one.reading.run, middles);
  if (fitted !== null)
    return { among: "trial", middle: Math.exp(fitted.log), low, high, logScatter: fitted.scatter };
  return {
    among: "trial",
    middle: Math.exp(medianSorted(middles.map(({ log }) => log).sort((a, b) => a - b))),
    low,
    high,
    logScatter: null,
  };
}

/** A reading's value in its response's unit; null where its unit can't be converted. */
export function valueInUnit(reading: Reading, unit: string): number | null {
  if (reading.unit === unit) return reading.value;
  return isUnit(reading.unit) && isUnit(unit) ? inUnitOf(reading.value, reading.unit, unit) : null;
}
