import { contrast, fitMixed, observeTable, type MixedFit, type Observations } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { drawnTogether, type CoverageCase } from "./coverage-case.ts";
import { holds, meanOf } from "./mixed.ts";

/** Runs within set-ups within days: the edge is changed with the set-up, the feed in every run. Numbers and variances. */
interface Nested {
  readonly days: number;
  readonly runs: number;
  readonly day: number;
  readonly setUp: number;
  readonly run: number;
}

const setUps = 2;

const edgeOf = (day: number, setUp: number): "fresh" | "used" => ((day + setUp) % 2 === 0 ? "fresh" : "used");
const feedOf = (runs: number, day: number, place: number): number =>
  [0.08, 0.24, 0.16, 0.2][(place + (runs < 4 ? day : 0)) % 4];

function nestedDrawn(design: Nested, random: SeededRandom): MixedFit {
  const { days, runs, day, setUp, run } = design;
  const values = Array.from({ length: days }, (_, d) => {
    const ofDay = Math.sqrt(day) * random.normal();
    return Array.from({ length: setUps }, (__, s) => {
      const own = ofDay + Math.sqrt(setUp) * random.normal();
      return Array.from(
        { length: runs },
        (___, i) => meanOf(edgeOf(d, s), feedOf(runs, d, i)) + own + Math.sqrt(run) * random.normal(),
      );
    });
  }).flat(2);
  const { rows, ...rest } = layoutOf(design);
  return fitMixed({
    ...rest,
    rows: rows.map((row, i) => ({ ...row, value: values[i], single: [values[i]] })),
  });
}

const layouts = new Map<Nested, Observations>();

function layoutOf(design: Nested): Observations {
  const known = layouts.get(design);
  if (known !== undefined) return known;
  const { days, runs } = design;
  const rows = Array.from({ length: days }, (_, d) =>
    Array.from({ length: setUps }, (__, s) =>
      Array.from({ length: runs }, (___, i) => ({
        day: `day ${d + 1}`,
        setUp: `${d + 1}-${s + 1}`,
        edge: edgeOf(d, s),
        feed: feedOf(runs, d, i),
      })),
    ),
  ).flat(2);
  const columns = [
    { name: "day", unit: "", values: rows.map((row) => row.day) },
    { name: "set-up", unit: "", values: rows.map((row) => row.setUp) },
    { name: "edge", unit: "", values: rows.map((row) => row.edge) },
    { name: "feed", unit: "", values: rows.map((row) => row.feed) },
    { name: "Ra", unit: "", values: rows.map(() => 1) },
  ];
  const made = observeTable(
    { columns },
    { response: "Ra", factors: ["edge", "feed"], random: ["day", "set-up"] },
  );
  layouts.set(design, made);
  return made;
}

const nestedDesigns: readonly (readonly [string, Nested])[] = [
  ["12 runs in 6 set-ups on 3 days", { days: 3, runs: 2, day: 1, setUp: 0.5, run: 1 }],
  ["16 runs in 8 set-ups on 4 days", { days: 4, runs: 2, day: 1, setUp: 0.5, run: 1 }],
  ["16 runs in 8 set-ups on 4 days that add nothing", { days: 4, runs: 2, day: 0, setUp: 0.5, run: 1 }],
  ["32 runs in 16 set-ups on 8 days", { days: 8, runs: 2, day: 1, setUp: 0.5, run: 1 }],
];

const edgeEffect = meanOf("used", 0) - meanOf("fresh", 0);
const feedEffect = meanOf("fresh", 0.24) - meanOf("fresh", 0.08);
const from = { edge: "fresh", feed: 0.1 } as const;
const at = { edge: "used", feed: 0.2 } as const;
const truth = meanOf(at.edge, at.feed);
const change = truth - meanOf(from.edge, from.feed);

/** Figures known to hold too often; the notes of `fitMixed` tell its users these. */
const safe =
  "a variance that comes out as zero is taken from the sources within it, yet judged on the degrees of freedom of its own; fitMixed's notes give the figures";
const known = new Set([
  "nested: effect of a factor of set-ups, 12 runs in 6 set-ups on 3 days",
  "nested: effect of a factor of set-ups, 16 runs in 8 set-ups on 4 days",
  "nested: effect of a factor of set-ups, 16 runs in 8 set-ups on 4 days that add nothing",
  "nested: effect of a factor of set-ups, 32 runs in 16 set-ups on 8 days",
  "nested: mean at a setting, 16 runs in 8 set-ups on 4 days that add nothing",
  "nested: share of the days, 12 runs in 6 set-ups on 3 days",
  "nested: share of the set-ups, 12 runs in 6 set-ups on 3 days",
  "nested: share of the runs, 12 runs in 6 set-ups on 3 days",
  "nested: standard deviation of the days, 12 runs in 6 set-ups on 3 days",
  "nested: standard deviation of the set-ups, 12 runs in 6 set-ups on 3 days",
  "nested: share of the days, 16 runs in 8 set-ups on 4 days",
  "nested: share of the set-ups, 16 runs in 8 set-ups on 4 days",
  "nested: standard deviation of the days, 16 runs in 8 set-ups on 4 days",
  "nested: standard deviation of the set-ups, 16 runs in 8 set-ups on 4 days",
]);
const short =
  "by profile likelihood, which is too short for the scatter of few runs within set-ups; fitMixed's notes give the figure";
const tooShort = "nested: standard deviation of the runs, 12 runs in 6 set-ups on 3 days";
const figure = (name: string) => ({
  name,
  nominal: 0.95,
  ...(known.has(name) ? { known: safe } : name === tooShort ? { known: short } : {}),
});

/** Effects, predictions and differences of runs within set-ups within days. */
function placeCases(name: string, design: Nested, seed: number): readonly CoverageCase[] {
  const { day, setUp, run } = design;
  return drawnTogether(
    seed,
    [
      "effect of a factor of set-ups",
      "effect of a factor of runs",
      "mean at a setting",
      "next run on a day of its own",
      "difference of two settings, one of set-ups and one of runs",
    ].map((what) => figure(`nested: ${what}, ${name}`)),
    (random) => {
      const fit = nestedDrawn(design, random);
      const { mean, single } = fit.predict(at);
      const next =
        truth +
        Math.sqrt(day) * random.normal() +
        Math.sqrt(setUp) * random.normal() +
        Math.sqrt(run) * random.normal();
      return [
        effectHolds(fit, "edge", edgeEffect),
        effectHolds(fit, "feed", feedEffect),
        mean && mean.low <= truth && truth <= mean.high,
        single && single.low <= next && next <= single.high,
        holds(contrast(fit, from, at).value, change),
      ];
    },
  );
}

/** How much each source scatters, and its share of the variance of one run. */
function sourceCases(name: string, design: Nested, seed: number): readonly CoverageCase[] {
  const sources = [
    { what: "days", variance: design.day },
    { what: "set-ups", variance: design.setUp },
    { what: "runs", variance: design.run },
  ];
  const total = design.day + design.setUp + design.run;
  return drawnTogether(
    seed,
    ["share", "standard deviation"].flatMap((which) =>
      sources.map(({ what }) => ({
        ...figure(`nested: ${which} of the ${what}, ${name}`),
        // Intervals by profile likelihood of two sources take long.
        fewer: 2000,
      })),
    ),
    (random) => {
      const { variances } = nestedDrawn(design, random);
      return [
        ...sources.map(({ variance }, k) => holds(variances[k].shareInterval, variance / total)),
        ...sources.map(({ variance }, k) => holds(variances[k].interval, Math.sqrt(variance))),
      ];
    },
  );
}

export const nestedCases: readonly CoverageCase[] = nestedDesigns.flatMap(([name, design], k) => [
  ...placeCases(name, design, 8150 + k),
  ...(k < 2 ? sourceCases(name, design, 8160 + k) : []),
]);

function effectHolds(fit: MixedFit, factor: string, truth: number): boolean | null {
  const effect = fit.effects.find((one) => one.factor === factor);
  return effect === undefined ? null : holds(effect.value, truth);
}
