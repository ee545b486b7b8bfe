import { expect, test } from "vitest";
import { fitMixed, observeTable } from "../../../src/model/index.ts";
import type { MixedOptions } from "../../../src/model/index.ts";
import { edge, feed, madeTrial } from "../made-trial.ts";
import { splitPlotTrial } from "./split-plot-trial.ts";

type Columns = Readonly<Record<string, readonly (string | number)[]>>;

function fitted(columns: Columns, random: readonly string[], options: MixedOptions = {}) {
  const observations = observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    {
      response: "y",
      factors: Object.keys(columns).filter((name) => name !== "y" && !random.includes(name)),
      random,
    },
  );
  return fitMixed(observations, options);
}

const two = ["a", "a", "b", "b"];
const trial = splitPlotTrial({ seed: 4, plot: 0.1, run: 0.05, reading: 0.03 });
const easy = madeTrial(
  [0.08, 0.16, 0.24, 0.08].map((setting, i) => ({ settings: { feed: setting }, spots: [[0.3 + 0.1 * i]] })),
  { factors: [feed] },
);
const setUpOnce = madeTrial(
  ["fresh", "fresh", "used", "used"].map((level, i) => ({
    settings: { edge: level },
    spots: [[0.3 + 0.1 * i]],
  })),
  { factors: [{ ...edge, change: "hard" }] },
);

const cases: readonly (readonly [string, () => unknown, string])[] = [
  [
    "all one value",
    () => fitted({ day: two, y: [2, 2, 2, 2] }, ["day"]),
    "y is 2 in every row; expected some scatter to part among its sources. Read with a finer gauge, or look for a gauge that sticks.",
  ],
  [
    "terms that meet every row",
    () => fitted({ day: ["a", "b", "a", "b"], x: [1, 2, 3, 4], y: [2, 4, 6, 8] }, ["day"]),
    "the fixed terms meet every y exactly; expected some scatter to part among its sources. Ask for fewer terms.",
  ],
  [
    "as many terms as rows",
    () => fitted({ day: ["a", "b", "a"], x: [1, 2, 4], y: [2, 3, 7] }, ["day"], { model: "surface" }),
    "3 rows for 3 terms that are fixed; expected more rows than terms, so that some scatter is left to part among its sources. Ask for fewer terms, or cut more runs.",
  ],
  [
    "rows that agree within every level",
    () => fitted({ day: two, y: [1, 1, 3, 3] }, ["day"]),
    "rows that share day read exactly as the terms say; expected some scatter within them. Leave out the finest source, or give the readings with more digits.",
  ],
  [
    "two sources that always change together",
    () => fitted({ day: two, shift: ["x", "x", "y", "y"], y: [1, 3, 5, 8] }, ["day", "shift"]),
    "day and shift as random sources, which always change together; expected sources of which one changes while another stays. Name one of the two.",
  ],
  [
    "a source that is the residual",
    () => fitted({ part: ["a", "b", "c", "d"], y: [1, 3, 5, 8] }, ["part"]),
    "part as a random source, which is another one in each of 4 rows; expected several rows on some of its levels. Its scatter is what is called residual: leave part out, or give every reading a line of its own.",
  ],
  [
    "one level",
    () => fitted({ day: ["a", "a", "a"], y: [1, 3, 5] }, ["day"]),
    "day as a random source, with one level in every row; expected at least two levels, better five or more. One day says nothing of how days differ: leave it out, or cut on a second one.",
  ],
  [
    "whole plots of which each setting has one",
    () => fitMixed(setUpOnce),
    "whole plot as a random source, where every difference between its 2 levels is one of edge as well; expected settings that were cut on more than one whole plot. Whether edge or whole plot made the difference can't be told: leave one of them out, or cut each setting on a second whole plot.",
  ],
  [
    "no source at all",
    () => fitMixed(easy),
    "a mixed fit without a random source, of a trial in which no factor is hard to change; expected at least one source: block, run, or a factor.",
  ],
  [
    "whole plots where no factor is hard to change",
    () => fitMixed(easy, { random: ["whole plot"] }),
    'the random source whole plot in made, where no factor is hard to change; expected a factor marked "change": "hard".',
  ],
  [
    "an unknown source of a trial",
    () => fitMixed(trial, { random: ["day"] }),
    'the unknown random source "day"; expected one of block, whole plot, run, spot, edge, feed or speed.',
  ],
  [
    "an unknown source of a table",
    () =>
      fitMixed(
        observeTable(
          { columns: [{ name: "y", unit: "", values: [1, 2, 4] }] },
          { response: "y", factors: [] },
        ),
        { random: ["day"] },
      ),
    'the unknown random source "day"; expected observations made with their random sources. Name the columns when the observations are made: observeTable(table, { random: [...] }).',
  ],
  [
    "spots without their runs",
    () => fitMixed(trial, { random: ["spot"] }),
    "the random source spot without run; expected the runs that the spots lie on as a source too. Name run as well.",
  ],
  [
    "runs where each was read once",
    () => fitMixed(easy, { random: ["run"] }),
    "run as a random source, which is another one in each of 4 rows; expected several rows on some of its levels. Its scatter is what is called residual: leave run out, or give every reading a line of its own.",
  ],
  [
    "a model and terms",
    () => fitMixed(trial, { model: "main", terms: [{}] }),
    "both a model and terms; expected one of the two.",
  ],
  [
    "an unknown allowance for small samples",
    () => fitMixed(trial, { smallSample: "none" as "satterthwaite" }),
    'smallSample "none"; expected satterthwaite or kenward-roger.',
  ],
];

test.each(cases)("%s is refused with the reason and the mend", (_, ask, message) => {
  let told = "";
  try {
    ask();
  } catch (error) {
    told = (error as Error).message;
  }
  expect(told).toBe(message);
});
