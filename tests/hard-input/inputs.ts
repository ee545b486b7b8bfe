import { observeTable, type Observations } from "../../src/model/index.ts";
import type { Trial } from "../../src/trial/index.ts";
import { madeTrial } from "../model/made-trial.ts";

/** One run: feed, speed, edge, day, and what the gauge read. */
export interface HardRun {
  readonly feed: number;
  readonly speed: number;
  readonly edge: string;
  readonly day: string;
  readonly value: number;
}

/** A set of runs that is hard to answer. */
export interface HardInput {
  readonly name: string;
  readonly runs: readonly HardRun[];
  /** True where the numbers themselves are none: then a refusal may cite them. */
  readonly citesNonFinite?: boolean;
}

const feeds = [0.08, 0.16, 0.24];
const speeds = [600, 1000, 1400];

/** Eighteen runs over feed and speed with two edges on three days; a made-up law of finish with a fixed, uneven scatter. */
const sound: readonly HardRun[] = Array.from({ length: 18 }, (_, i) => {
  const feed = feeds[i % 3];
  const speed = speeds[Math.floor(i / 3) % 3];
  const edge = i < 9 ? "fresh" : "used";
  const scatter = 1 + 0.04 * Math.sin(2.7 * i) + 0.02 * Math.cos(7.1 * i * i);
  const value = 6 * feed * (speed / 1000) ** -0.2 * (edge === "used" ? 1.25 : 1) * scatter;
  return { feed, speed, edge, day: `day ${1 + ((i * 5) % 3)}`, value };
});

const each = (change: (run: HardRun, i: number) => Partial<HardRun>): readonly HardRun[] =>
  sound.map((run, i) => ({ ...run, ...change(run, i) }));

export const soundInput: HardInput = { name: "sound runs", runs: sound };

export const hardInputs: readonly HardInput[] = [
  {
    name: "a reading that is no number",
    runs: each((_, i) => (i === 4 ? { value: NaN } : {})),
    citesNonFinite: true,
  },
  {
    name: "a reading without end",
    runs: each((_, i) => (i === 4 ? { value: Infinity } : {})),
    citesNonFinite: true,
  },
  {
    name: "a setting without end",
    runs: each((_, i) => (i === 4 ? { feed: Infinity } : {})),
    citesNonFinite: true,
  },
  {
    name: "a setting that is no number",
    runs: each((_, i) => (i === 4 ? { feed: NaN } : {})),
    citesNonFinite: true,
  },
  { name: "all one reading", runs: each(() => ({ value: 0.8 })) },
  { name: "all zero", runs: each(() => ({ value: 0 })) },
  { name: "a reading of zero", runs: each((_, i) => (i === 4 ? { value: 0 } : {})) },
  { name: "readings below zero", runs: each(({ value }, i) => ({ value: i % 2 === 0 ? value : -value })) },
  { name: "a line met exactly", runs: each(({ feed }) => ({ value: 5 * feed })) },
  { name: "a law met exactly", runs: each(({ feed, speed }) => ({ value: feed ** 2 * speed ** -0.5 })) },
  { name: "one level cut", runs: each(() => ({ edge: "fresh" })) },
  { name: "one feed cut", runs: each(() => ({ feed: 0.16 })) },
  { name: "one setting of everything", runs: each(() => ({ feed: 0.16, speed: 1000, edge: "fresh" })) },
  { name: "feed and speed tied", runs: each(({ feed }) => ({ speed: 5000 * feed })) },
  { name: "units mixed", runs: each(({ value }, i) => (i % 5 === 0 ? { value: value * 39.37 } : {})) },
  { name: "no run", runs: [] },
  { name: "one run", runs: sound.slice(0, 1) },
  { name: "two runs", runs: sound.slice(0, 2) },
  { name: "more terms than runs", runs: [sound[0], sound[4], sound[17]] },
  { name: "as many terms as runs", runs: [sound[0], sound[1], sound[4], sound[12]] },
  { name: "one day", runs: each(() => ({ day: "day 1" })) },
  { name: "each run a day of its own", runs: each((_, i) => ({ day: `day ${i}` })) },
  { name: "every run three times over", runs: sound.flatMap((run) => [run, run, run]) },
  { name: "readings of 1e150", runs: each(({ value }) => ({ value: value * 1e150 })) },
  { name: "readings of 1e-150", runs: each(({ value }) => ({ value: value * 1e-150 })) },
  { name: "readings of 1e300", runs: each(({ value }) => ({ value: value * 1e300 })) },
  { name: "readings of 1e-300", runs: each(({ value }) => ({ value: value * 1e-300 })) },
  {
    name: "readings from 1e-150 to 1e150",
    runs: each(({ value }, i) => ({ value: value * 10 ** (i % 2 === 0 ? 150 : -150) })),
  },
  { name: "settings of 1e150", runs: each(({ feed }) => ({ feed: feed * 1e150 })) },
  { name: "settings of 1e-150", runs: each(({ feed }) => ({ feed: feed * 1e-150 })) },
  { name: "settings that differ in the last digit", runs: each(({ feed }) => ({ feed: 1e9 + feed * 1e-6 })) },
  { name: "scatter of a hundred-millionth", runs: each(({ value }) => ({ value: 1e9 + value })) },
];

/** The runs as a table is observed; numbers that are none, which no file can hold, are put into the rows afterwards. */
export function observed(
  input: HardInput,
  factors: readonly string[],
  random: readonly string[] = [],
): Observations {
  const { runs } = input;
  const usual = <Key extends "feed" | "value">(key: Key, instead: number) =>
    runs.map((run) => (Number.isFinite(run[key]) ? run[key] : instead));
  const observations = observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: usual("feed", 0.1) },
        { name: "speed", unit: "rev/min", values: runs.map(({ speed }) => speed) },
        { name: "edge", unit: "", values: runs.map(({ edge }) => edge) },
        { name: "day", unit: "", values: runs.map(({ day }) => day) },
        { name: "Ra", unit: "µm", values: usual("value", 1) },
      ],
    },
    { response: "Ra", factors, ...(random.length > 0 ? { random } : {}) },
  );
  if (input.citesNonFinite !== true) return observations;
  return {
    ...observations,
    rows: observations.rows.map((row, i) => ({
      ...row,
      value: runs[i].value,
      single: [runs[i].value],
      settings: "feed" in row.settings ? { ...row.settings, feed: runs[i].feed } : row.settings,
    })),
  };
}

/** The same runs as a trial on a machine. */
export function trialOf({ runs }: HardInput): Trial {
  return madeTrial(
    runs.map(({ feed, speed, edge, value }) => ({ settings: { feed, speed, edge }, spots: [[value]] })),
    {
      factors: [
        { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, increment: 0.04 },
        { name: "speed", kind: "quantity", unit: "rev/min", low: 600, high: 1400, increment: 200 },
        { name: "edge", kind: "category", levels: ["fresh", "used"] },
      ],
      more: {
        held: { depth: "0.3 mm" },
        cutter: { diameter: "80 mm", teeth: 1 },
        pass: { length: "200 mm", width: "40 mm", kind: "milling" },
      },
    },
  );
}
