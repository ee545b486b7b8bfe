import {
  compareLevels,
  equivalence,
  isInterval,
  observeTable,
  scatterFromReplicates,
  scatterFromResiduals,
} from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

/** Runs of each level, with their mean and their scatter. */
interface Drawn {
  readonly runs: number;
  readonly mean?: number;
  readonly scatter?: number;
}

function drawn(levels: readonly Drawn[], random: SeededRandom) {
  const runs = levels.flatMap(({ runs: count, mean = 10, scatter = 1 }, level) =>
    Array.from({ length: count }, () => ({
      edge: `edge ${level + 1}`,
      value: mean + scatter * random.normal(),
    })),
  );
  return observeTable(
    {
      columns: [
        { name: "edge", unit: "", values: runs.map(({ edge }) => edge) },
        { name: "y", unit: "", values: runs.map(({ value }) => value) },
      ],
    },
    { response: "y", factors: ["edge"] },
  );
}

const alike = (counts: readonly number[]): readonly Drawn[] => counts.map((runs) => ({ runs }));

/** Whether any pair is called different where none is: by an interval without zero, which is p below 0.05 and quicker to draw. */
function falseAlarm(levels: readonly Drawn[], options: Parameters<typeof compareLevels>[1]) {
  return (random: SeededRandom): boolean =>
    compareLevels(drawn(levels, random), options).pairs.some(
      ({ value }) => isInterval(value) && (value.low > 0 || value.high < 0),
    );
}

/** The same by p, where p and the intervals are not one. */
function falseAlarmByP(levels: readonly Drawn[], options: Parameters<typeof compareLevels>[1]) {
  return (random: SeededRandom): boolean =>
    compareLevels(drawn(levels, random), options).pairs.some(({ p }) => p !== null && p < 0.05);
}

/** Whether the intervals of all pairs hold the true differences. */
function allHold(levels: readonly Drawn[], options: Parameters<typeof compareLevels>[1]) {
  return (random: SeededRandom): boolean =>
    compareLevels(drawn(levels, random), options).pairs.every(({ from, to, value }) => {
      const mean = (name: string): number => levels[Number(name.slice(5)) - 1].mean ?? 10;
      const truth = mean(to) - mean(from);
      return isInterval(value) && value.low <= truth && truth <= value.high;
    });
}

const apart: readonly Drawn[] = [{ runs: 4 }, { runs: 4, mean: 11 }, { runs: 4, mean: 13 }, { runs: 4 }];
const unlike: readonly Drawn[] = [
  { runs: 8, scatter: 3 },
  { runs: 8, scatter: 1 },
  { runs: 8, mean: 12, scatter: 0.5 },
];

/** Tests and intervals of comparisons, equivalence, scatter and transformation against their nominal chances. */
export const comparisonCases: readonly CoverageCase[] = [
  {
    name: "false alarm in any of 6 pairs, 4 levels of 4 runs (Tukey)",
    nominal: 0.05,
    seed: 1600,
    simulate: falseAlarm(alike([4, 4, 4, 4]), {}),
  },
  {
    name: "false alarm in any of 3 pairs, levels of 3, 5 and 10 runs (Tukey and Kramer)",
    nominal: 0.05,
    promise: "at most",
    seed: 1601,
    simulate: falseAlarm(alike([3, 5, 10]), {}),
  },
  {
    name: "false alarm with a control, levels of 6, 3, 4 and 5 runs (Dunnett)",
    nominal: 0.05,
    seed: 1602,
    simulate: falseAlarm(alike([6, 3, 4, 5]), { control: "edge 1" }),
  },
  {
    name: "false alarm in any of 3 pairs, 3 levels of 6 runs (Holm)",
    nominal: 0.05,
    promise: "at most",
    seed: 1603,
    simulate: falseAlarmByP(alike([6, 6, 6]), { adjust: "holm" }),
  },
  {
    name: "false alarm in any of 3 pairs by ranks, 3 levels of 6 runs",
    nominal: 0.05,
    promise: "at most",
    seed: 1604,
    simulate: falseAlarmByP(alike([6, 6, 6]), { by: "ranks" }),
  },
  {
    name: "intervals of all 6 pairs together, 4 levels of 4 runs",
    nominal: 0.95,
    seed: 1605,
    simulate: allHold(apart, {}),
  },
  {
    name: "intervals of all 3 pairs together, scatter 3 : 1 : 0.5, 8 runs a level (Games and Howell)",
    nominal: 0.95,
    seed: 1606,
    simulate: allHold(unlike, { scatter: "unequal" }),
  },
  {
    // R 4.2: power.t.test(n = 10, delta = 1, sd = 0.7, strict = TRUE)$power.
    name: "power to tell 2 levels of 10 runs apart by 1, scatter 0.7",
    nominal: 0.8554408468,
    seed: 1607,
    simulate: falseAlarm(
      [
        { runs: 10, scatter: 0.7 },
        { runs: 10, mean: 11, scatter: 0.7 },
      ],
      {},
    ),
  },
  {
    name: "false claim of two levels alike that differ by the margin, 8 runs each",
    nominal: 0.05,
    seed: 1608,
    simulate: (random) =>
      equivalence(drawn([{ runs: 8 }, { runs: 8, mean: 12 }], random), { margin: 2 }).pairs[0].verdict ===
      "within",
  },
  {
    // equivalencePower, held against R's integrate() in its own test.
    name: "power to show two levels alike within 2 standard deviations, 5 runs each",
    nominal: 0.7835798747,
    seed: 1609,
    simulate: (random) =>
      equivalence(drawn(alike([5, 5]), random), { margin: 2 }).pairs[0].verdict === "within",
  },
  {
    name: "ratio of standard deviations from replicates, 8 runs a level",
    nominal: 0.95,
    seed: 1610,
    simulate: (random) => {
      const [{ value }] = scatterFromReplicates(
        drawn([{ runs: 8 }, { runs: 8, scatter: 2 }], random),
      ).scatter;
      return isInterval(value) && value.low <= 2 && 2 <= value.high;
    },
  },
  {
    name: "false alarm of a scatter effect from residuals, 12 runs",
    nominal: 0.05,
    seed: 1611,
    simulate: (random) =>
      scatterFromResiduals(drawn(alike([6, 6]), random), { draws: 99 }).scatter[0].p! <= 0.05,
  },
];
