import { fitLinear, fitPowerLaw, type Fit } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { trialContext, type Check } from "../../src/review/context.ts";
import { formLeftOver, outlyingRun, scatterGrowsWithSize } from "../../src/review/fit-checks.ts";
import { flatAtLowEnd } from "../../src/review/flat-at-low-end.ts";
import { belowIdeal } from "../../src/review/gauge-checks.ts";
import { leftAlongFactor } from "../../src/review/left-along-factor.ts";
import { orderFollowsFactor } from "../../src/review/order-follows-factor.ts";
import { repeatsAsReplicates } from "../../src/review/replication.ts";
import { bendsAgainstFitted, influentialRun, trendAlongOrder } from "../../src/review/residual-checks.ts";
import { parseTrialSpec, type Settings, type Trial } from "../../src/trial/index.ts";
import { drawnTogether, type CoverageCase, type CoverageFigure } from "./coverage-case.ts";

const noseRadius = 0.8;
/** Ra is so many times the ideal of the nose radius, and has a scatter of 8 %. */
const timesIdeal = 1.3;
const law = (feed: number): number => (timesIdeal * 1000 * feed ** 2) / (18 * Math.sqrt(3) * noseRadius);
const scatter = 0.08;
const feeds = [0.08, 0.12, 0.16, 0.24];
const speeds = [800, 1600];

const spec = parseTrialSpec(
  {
    format: "trycut-trial/1",
    title: "Drawn",
    question: "What moves Ra?",
    dataKind: "invented",
    source: "",
    display: "metric",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, scale: "log" },
      { name: "speed", kind: "quantity", unit: "rev/min", low: 800, high: 1600, scale: "log" },
    ],
    responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 3.2 }],
    layout: { kind: "given" },
    held: {},
    cutter: { diameter: "80 mm", noseRadius: `${noseRadius} mm`, teeth: 1 },
    pass: { length: "180 mm", width: "60 mm" },
  },
  "trial.json",
);

/** A drawn run: where it was cut, in cutting order, and its normal deviate. */
interface DrawnRun {
  readonly feed: number;
  readonly speed: number;
  readonly place: number;
  readonly deviate: number;
}

type Value = (run: DrawnRun) => number;

/** Four feeds by two speeds, or corners with centre points, shuffled, one reading a run. */
function trialOf(places: readonly Settings[], value: Value, random: SeededRandom): Trial {
  const runs = random
    .shuffle(places)
    .map((settings, k) => ({ run: k + 1, standard: k + 1, block: 1, role: "given" as const, settings }));
  return {
    name: "drawn",
    spec,
    runs,
    asCut: [],
    readings: runs.map(({ run, settings: { feed, speed } }) => ({
      run,
      response: "Ra",
      value: value({
        feed: Number(feed),
        speed: Number(speed),
        place: (run - 1) / (runs.length - 1),
        deviate: random.normal(),
      }),
      unit: "µm",
      spot: 1,
      repeat: 1,
      taken: "",
      note: "",
      void: "",
    })),
    checksum: "",
  };
}

const grid = feeds.flatMap((feed) => speeds.map((speed): Settings => ({ feed, speed })));
const times = (places: readonly Settings[], count: number): readonly Settings[] =>
  Array.from({ length: count }, () => places).flat();
const corners = [0.08, 0.24].flatMap((feed) => speeds.map((speed): Settings => ({ feed, speed })));
const centre: Settings = { feed: 0.16, speed: 1200 };

const clean: Value = ({ feed, deviate }) => law(feed) * Math.exp(scatter * deviate);
const byLaw = (trial: Trial): Fit => fitPowerLaw(trial, { response: "Ra" });
/** A straight line with scatter of the same size everywhere; `off` in standard deviations of it. */
const sd = 0.05;
const straight =
  (off: (run: DrawnRun) => number): Value =>
  (run) =>
    1 + 3 * run.feed + sd * (run.deviate + off(run));
const byLine = (trial: Trial): Fit => fitLinear(trial, { response: "Ra" });

/** Each remark's own check, so that nothing is drawn for remarks that aren't asked for. */
const checks: Readonly<Record<string, Check>> = {
  "outlying-run": outlyingRun,
  "influential-run": influentialRun,
  "trend-along-order": trendAlongOrder,
  "curvature-left-over": formLeftOver,
  "left-along-factor": leftAlongFactor,
  "bends-against-fitted": bendsAgainstFitted,
  "scatter-grows-with-size": scatterGrowsWithSize,
  "flat-at-low-end": flatAtLowEnd,
  "order-follows-factor": orderFollowsFactor,
  "repeats-as-replicates": repeatsAsReplicates,
  "below-ideal": belowIdeal,
};

interface Drawing {
  readonly seed: number;
  readonly places: readonly Settings[];
  readonly value: Value;
  /** Null where the remark looks at no fit. */
  readonly fitted: ((trial: Trial) => Fit) | null;
}

/** Which of the named remarks are raised, each a figure of its own. */
function raised(
  figures: readonly (CoverageFigure & { readonly kind: string })[],
  { seed, places, value, fitted }: Drawing,
): readonly CoverageCase[] {
  return drawnTogether(
    seed,
    figures.map(({ name, nominal, promise }) => ({ name, nominal, promise })),
    (random) => {
      const trial = trialOf(places, value, random);
      const context = trialContext(trial, fitted === null ? null : fitted(trial), []);
      return figures.map(({ kind }) => checks[kind](context).some((remark) => remark.kind === kind));
    },
  );
}

const onClean = (kind: string, of: string, nominal = 0.05) => ({
  kind,
  name: `remark on a clean trial: ${kind}, ${of}`,
  nominal,
  promise: "at most" as const,
});
const power = (kind: string, disturbance: string) => ({
  kind,
  name: `power of a remark: ${kind}, ${disturbance}`,
  nominal: 1,
  promise: "told" as const,
});

/** Influential runs are judged by draws of their own, which take long; see the cases by a straight line in `resample.ts`. */
const ofFit = [
  "outlying-run",
  "trend-along-order",
  "curvature-left-over",
  "left-along-factor",
  "bends-against-fitted",
];

export const remarkCases: readonly CoverageCase[] = [
  ...raised(
    [
      ...ofFit.map((kind) => onClean(kind, "16 runs by a power law")),
      onClean("flat-at-low-end", "16 runs by a power law"),
      onClean("order-follows-factor", "16 runs in shuffled order"),
      onClean("repeats-as-replicates", "16 runs in shuffled order"),
      onClean("below-ideal", "16 runs at 1.3 times the ideal"),
    ],
    { seed: 8200, places: times(grid, 2), value: clean, fitted: byLaw },
  ),
  ...raised(
    [
      ...ofFit
        .filter((kind) => kind !== "curvature-left-over")
        .map((kind) => onClean(kind, "8 runs by a power law")),
      onClean("order-follows-factor", "8 runs in shuffled order"),
    ],
    { seed: 8201, places: grid, value: clean, fitted: byLaw },
  ),
  ...raised([onClean("curvature-left-over", "8 corners and 4 centre points")], {
    seed: 8202,
    places: [...times(corners, 2), ...times([centre], 4)],
    value: straight(() => 0),
    fitted: byLine,
  }),
  ...raised([onClean("flat-at-low-end", "16 runs of a feed that does nothing")], {
    seed: 8203,
    places: times(grid, 2),
    value: ({ deviate }) => Math.exp(scatter * deviate),
    fitted: byLaw,
  }),
  // n!·k!ⁿ/(nk)! for n settings k times: 3!·2!³/6!.
  ...raised([onClean("repeats-as-replicates", "6 runs in shuffled order", 48 / 720)], {
    seed: 8204,
    places: times(
      [0.08, 0.14, 0.24].map((feed): Settings => ({ feed, speed: 1200 })),
      2,
    ),
    value: clean,
    fitted: null,
  }),
  ...raised([power("trend-along-order", "1 sd of drift over 16 runs")], {
    seed: 8210,
    places: times(grid, 2),
    value: straight(({ place }) => place),
    fitted: byLine,
  }),
  ...raised([power("trend-along-order", "3 sd of drift over 16 runs")], {
    seed: 8211,
    places: times(grid, 2),
    value: straight(({ place }) => 3 * place),
    fitted: byLine,
  }),
  ...raised(
    [power("outlying-run", "1 of 16 runs 5 sd off"), power("influential-run", "1 of 16 runs 5 sd off")],
    {
      seed: 8212,
      places: times(grid, 2),
      value: straight((run) => (run.place === 0 ? 5 : 0)),
      fitted: byLine,
    },
  ),
  ...raised(
    ["curvature-left-over", "left-along-factor", "bends-against-fitted"].map((kind) =>
      power(kind, "middle feeds 2 sd above a line, 16 runs"),
    ),
    {
      seed: 8213,
      places: times(grid, 2),
      value: straight(({ feed }) => (feed === 0.12 || feed === 0.16 ? 2 : 0)),
      fitted: byLine,
    },
  ),
  ...raised([power("curvature-left-over", "centre 2 sd above the corners, 12 runs")], {
    seed: 8214,
    places: [...times(corners, 2), ...times([centre], 4)],
    value: straight(({ feed }) => (feed === 0.16 ? 2 : 0)),
    fitted: byLine,
  }),
  ...raised([power("scatter-grows-with-size", "scatter of 8 % over a factor of 9, 16 runs")], {
    seed: 8215,
    places: times(grid, 2),
    value: clean,
    fitted: (trial) => fitLinear(trial, { response: "Ra", terms: [{ feed: 1 }, { feed: 2 }] }),
  }),
  ...raised([power("flat-at-low-end", "flat from feed 0.12 down, 16 runs")], {
    seed: 8216,
    places: times(grid, 2),
    value: ({ feed, deviate }) => law(Math.max(feed, 0.12)) * Math.exp(scatter * deviate),
    fitted: byLaw,
  }),
  ...raised([power("below-ideal", "16 runs read at 0.9 of the ideal")], {
    seed: 8217,
    places: times(grid, 2),
    value: (run) => (clean(run) / timesIdeal) * 0.9,
    fitted: byLaw,
  }),
];
