/*
 * How often intervals hold the truth when the model is chosen by the same runs: `npx tsx tests/simulation/choosing.ts [trials]` prints the table that
 * stands in choosing.md. Every trial is drawn with σ = 1, its model chosen with `modelsWithinReach`, and each figure told twice: by the chosen model's own fit,
 * and by `bootstrapChoice`, which chooses anew in each of 200 draws.
 */
import { bootstrapChoice, isInterval, observeTable } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";

export const SEED = 20261130;
const DRAWS = 200;

/** The array of Plackett and Burman for 12 runs, from its cyclic row: five columns of it. */
const cyclic = [1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1];
const twelve = [
  ...Array.from({ length: 11 }, (_, run) =>
    Array.from({ length: 5 }, (_column, j) => cyclic[(j - run + 11) % 11]),
  ),
  [-1, -1, -1, -1, -1],
];
/** The half of the 2⁵ factorial whose fifth column is the product of the others. */
const sixteen = Array.from({ length: 16 }, (_, run) => {
  const x = [0, 1, 2, 3].map((bit) => ((run >> bit) & 1 ? 1 : -1));
  return [...x, x[0] * x[1] * x[2] * x[3]];
});

const names = ["a", "b", "c", "d", "e"];
const corner = Object.fromEntries(names.map((name) => [name, 1]));

interface Case {
  readonly what: string;
  readonly rows: readonly (readonly number[])[];
  readonly truth: (x: readonly number[]) => number;
}

const large: Case["truth"] = ([a, b]) => 10 + 2 * a + 1.5 * b + 1.5 * a * b;
const middling: Case["truth"] = ([a, b, c]) => 10 + a + 0.6 * b + 0.3 * c + 0.5 * a * b;

export const cases: readonly Case[] = [
  { what: "12 runs, middling effects", rows: twelve, truth: middling },
  { what: "12 runs, large effects", rows: twelve, truth: large },
  { what: "16 runs, middling effects", rows: sixteen, truth: middling },
  { what: "12 runs, no effect", rows: twelve, truth: () => 10 },
];

interface Tally {
  held: number;
  heldOwn: number;
  own: number;
}

/** Of each figure: in how many trials the interval held, in how many the chosen model told it, and in how many of those its own interval held. */
export function simulated({ rows, truth }: Case, trials: number, seed: number): readonly Tally[] {
  const at = (place: number, value: number): readonly number[] =>
    names.map((_, j) => (j === place ? value : 0));
  const truths = [...names.map((_, j) => truth(at(j, 1)) - truth(at(j, -1))), truth([1, 1, 1, 1, 1])];
  const tallies = truths.map((): Tally => ({ held: 0, heldOwn: 0, own: 0 }));
  for (let trial = 0; trial < trials; trial++) {
    const random = seededRandom(seed, { stream: trial });
    const columns = [
      ...names.map((name, j) => ({ name, unit: "mm", values: rows.map((x) => x[j]) })),
      { name: "y", unit: "µm", values: rows.map((x) => truth(x) + random.normal()) },
    ];
    const runs = observeTable({ columns }, { response: "y", factors: names });
    const { figures } = bootstrapChoice(runs, { draws: DRAWS, seed: random.integer(2 ** 40), at: [corner] });
    figures.forEach(({ value, byFit }, t) => {
      const holds = (one: { readonly low: number; readonly high: number }): number =>
        one.low <= truths[t] && truths[t] <= one.high ? 1 : 0;
      if (isInterval(value)) tallies[t].held += holds(value);
      if (byFit === null || !isInterval(byFit)) return;
      tallies[t].own += 1;
      tallies[t].heldOwn += holds(byFit);
    });
  }
  return tallies;
}

function print(trials: number): void {
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  process.stdout.write("| trial | figure | chosen anew | own fit | told by the own fit in |\n");
  process.stdout.write("| --- | --- | --- | --- | --- |\n");
  for (const one of cases) {
    simulated(one, trials, SEED).forEach(({ held, heldOwn, own }, t) => {
      const figure = t < names.length ? `effect of ${names[t]}` : "prediction at a corner";
      process.stdout.write(
        `| ${one.what} | ${figure} | ${percent(held / trials)} | ${own === 0 ? "" : percent(heldOwn / own)} | ${percent(own / trials)} |\n`,
      );
    });
  }
}

if (process.argv[1]?.endsWith("choosing.ts") === true) print(Number(process.argv[2] ?? 10_000));
