/*
 * Power and half-widths of judgements against simulated trials that are fitted: `npx tsx tests/simulation/judging.ts [trials]` prints the table
 * that stands in judging.md. Whole-plot terms are fitted to the means of the set-ups and run terms beside a mean for each set-up, which is
 * what restricted likelihood gives in a balanced split plot.
 */
import { judge, layOut, type Judgement } from "../../src/layout/index.ts";
import {
  leastSquares,
  refitter,
  seededRandom,
  tQuantile,
  type DesignColumn,
} from "../../src/numerics/index.ts";
import type { Factor, Run } from "../../src/trial/index.ts";

const SEED = 20261125;

export interface Simulated {
  readonly what: string;
  readonly power: number;
  readonly seen: number;
  readonly covered: number;
  readonly halfWidth: number;
  readonly meanHalfWidth: number;
}

interface Case {
  readonly what: string;
  readonly factors: readonly Factor[];
  readonly layout: { readonly kind: string } & Readonly<Record<string, unknown>>;
  readonly effect: number;
  readonly varianceRatio: number;
}

const quantity = (name: string, change: "easy" | "hard"): Factor => ({
  kind: "quantity",
  name,
  unit: "1",
  low: -1,
  high: 1,
  scale: "linear",
  change,
});

export const cases: readonly Case[] = [
  {
    what: "two groups of 8",
    factors: [quantity("A", "easy")],
    layout: { kind: "factorial", replicates: 8 },
    effect: 1,
    varianceRatio: 0,
  },
  {
    what: "2³ in duplicate",
    factors: ["A", "B", "C"].map((name) => quantity(name, "easy")),
    layout: { kind: "factorial", replicates: 2 },
    effect: 1.5,
    varianceRatio: 0,
  },
  {
    what: "split plot, 6 set-ups of 4, ratio 1",
    factors: [quantity("A", "hard"), quantity("B", "easy"), quantity("C", "easy")],
    layout: { kind: "factorial", replicates: 3 },
    effect: 2,
    varianceRatio: 1,
  },
  {
    what: "split-plot fraction, 7 factors, 8 set-ups of 4, ratio 0.5",
    factors: [..."ABCDEFG"].map((name, place) => quantity(name, place < 2 ? "hard" : "easy")),
    layout: { kind: "fraction", runs: 32, wholePlots: 8 },
    effect: 1.2,
    varianceRatio: 0.5,
  },
];

/** For σ = 1: every effect is of the stated size; the first hard and the first easy factor are looked at. */
export function simulated(one: Case, trials: number): readonly Simulated[] {
  const { factors, effect, varianceRatio } = one;
  const { runs } = layOut({ factors, layout: one.layout });
  const judged = judge(runs, factors, { sigma: 1, effect, varianceRatio });
  const random = seededRandom(SEED);
  const split = varianceRatio > 0;
  const plotOf = runs.map((run) => (run.wholePlot ?? run.run) - 1);
  const plots = Math.max(...plotOf) + 1;
  const heads = Array.from({ length: plots }, (_, plot) => runs[plotOf.indexOf(plot)]).filter(
    (run) => run !== undefined,
  );
  const column = (list: readonly Run[], name: string) => ({
    high: Float64Array.from(list, ({ settings }) => Number(settings[name])),
  });
  const easy = factors.filter(({ change }) => change === "easy");
  const hard = factors.filter(({ change }) => change === "hard");
  const ones = (count: number) => ({ high: new Float64Array(count).fill(1) });
  const between = split ? prepared([ones(plots), ...hard.map(({ name }) => column(heads, name))]) : undefined;
  const means = split
    ? Array.from({ length: plots }, (_, plot) => ({
        high: Float64Array.from(plotOf, (own) => (own === plot ? 1 : 0)),
      }))
    : [ones(runs.length)];
  const within = prepared([...means, ...easy.map(({ name }) => column(runs, name))]);
  const looks = [
    ...(between ? [{ name: hard[0]?.name ?? "", stratum: "between" as const, place: 1 }] : []),
    { name: easy[0]?.name ?? "", stratum: "within" as const, place: means.length },
  ];
  const tallies = looks.map(() => ({ seen: 0, covered: 0, width: 0 }));
  for (let trial = 0; trial < trials; trial += 1) {
    const setUps = Array.from({ length: plots }, () => Math.sqrt(varianceRatio) * random.normal());
    const y = Float64Array.from(runs, (run, row) => {
      const mean = factors.reduce((sum, { name }) => sum + (effect / 2) * Number(run.settings[name]), 0);
      return mean + (split ? (setUps[plotOf[row] ?? 0] ?? 0) : 0) + random.normal();
    });
    const fits = { within: within.refit(y), between: between?.refit(plotMeans(y, plotOf, plots)) };
    looks.forEach(({ stratum, place, name }, index) => {
      const fit = fits[stratum];
      const tally = tallies[index];
      const term = judged.terms.find(({ label }) => label === name);
      if (!fit || !tally || !term?.df) return;
      const share = (stratum === "within" ? within : between)?.share(place) ?? 0;
      const half = 2 * tQuantileOf(term.df) * Math.sqrt((fit.residualSumOfSquares / term.df) * share);
      const found = 2 * (fit.coefficients[place] ?? 0);
      tally.seen += found > half ? 1 : 0;
      tally.covered += Math.abs(found - effect) < half ? 1 : 0;
      tally.width += half;
    });
  }
  return looks.map(({ name }, index) => row(one.what, judged, name, tallies[index], trials));
}

/** A model ready for many responses, with the share of σ² in the variance of each coefficient. */
function prepared(columns: readonly DesignColumn[]) {
  const { inverseCross } = leastSquares(columns, new Float64Array(columns[0]?.high.length ?? 0));
  const { refit } = refitter(columns);
  return { refit, share: (place: number) => inverseCross[place * columns.length + place] ?? 0 };
}

const quantiles = new Map<number, number>();
function tQuantileOf(df: number): number {
  const known = quantiles.get(df) ?? tQuantile(0.975, df);
  quantiles.set(df, known);
  return known;
}

function plotMeans(y: Float64Array, plotOf: readonly number[], plots: number): Float64Array {
  const sums = new Float64Array(plots);
  const counts = new Float64Array(plots);
  y.forEach((value, place) => {
    const plot = plotOf[place] ?? 0;
    sums[plot] = (sums[plot] ?? 0) + value;
    counts[plot] = (counts[plot] ?? 0) + 1;
  });
  return sums.map((sum, plot) => sum / (counts[plot] ?? 1));
}

function row(
  what: string,
  judged: Judgement,
  name: string,
  tally: { seen: number; covered: number; width: number } | undefined,
  trials: number,
): Simulated {
  const term = judged.terms.find(({ label }) => label === name);
  const df = term?.df ?? 1;
  return {
    what: `${what}: ${name}`,
    power: term?.power ?? Number.NaN,
    seen: (tally?.seen ?? 0) / trials,
    covered: (tally?.covered ?? 0) / trials,
    // The judgement gives the half-width at s = σ; on average s is c₄·σ.
    halfWidth: (term?.halfWidth ?? 0) * c4(df),
    meanHalfWidth: (tally?.width ?? 0) / trials,
  };
}

/** Mean of s/σ with df degrees of freedom: √(2/df)·Γ((df + 1)/2)/Γ(df/2), for whole df by recursion from c₄(1) = √(2/π), c₄(2) = √π/2. */
export function c4(df: number): number {
  let gammaRatio = df % 2 === 1 ? 1 / Math.sqrt(Math.PI) : Math.sqrt(Math.PI) / 2;
  for (let at = df % 2 === 1 ? 1 : 2; at < df; at += 2) gammaRatio *= (at + 1) / at;
  return Math.sqrt(2 / df) * gammaRatio;
}

if (process.argv[1]?.endsWith("judging.ts")) {
  const trials = Number(process.argv[2] ?? 100_000);
  process.stdout.write(
    `| term | power | seen | covered | mean half-width | simulated |\n| - | - | - | - | - | - |\n`,
  );
  for (const one of cases)
    for (const { what, power, seen, covered, halfWidth, meanHalfWidth } of simulated(one, trials))
      process.stdout.write(
        `| ${what} | ${power.toFixed(4)} | ${seen.toFixed(4)} | ${covered.toFixed(4)} | ${halfWidth.toFixed(4)} | ${meanHalfWidth.toFixed(4)} |\n`,
      );
}
