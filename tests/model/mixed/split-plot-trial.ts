import { layOut } from "../../../src/layout/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { parseTrialSpec, wholePlotsOf, type Reading, type Trial } from "../../../src/trial/index.ts";
import { edge, feed } from "../made-trial.ts";

export interface SplitPlotTruth {
  readonly seed: number;
  /** Standard deviations of natural logarithms: of whole plots, of runs, of readings (two a run). */
  readonly plot: number;
  readonly run: number;
  readonly reading: number;
  /** Whole plots laid out; 4 runs each. Default 8. */
  readonly wholePlots?: number;
}

const speed = { name: "speed", kind: "quantity", unit: "rev/min", low: 1200, high: 2400, increment: 10 };

/** A split plot held in memory: the edge is set up once a whole plot; feed (exponent 1.2) and speed (−0.15) change from run to run; a used edge cuts 1.2 times as rough. */
export function splitPlotTrial({ seed, plot, run, reading, wholePlots = 8 }: SplitPlotTruth): Trial {
  const spec = parseTrialSpec(
    {
      format: "trycut-trial/1",
      title: "Made for a test",
      question: "What moves Ra?",
      dataKind: "invented",
      source: "",
      display: "metric",
      factors: [{ ...edge, change: "hard" }, feed, speed],
      responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
      layout: { kind: "factorial", replicates: wholePlots / 2, wholePlots, order: "random", seed: 11 },
      held: {},
    },
    "trial.json",
  );
  const { runs } = layOut(spec);
  const of = wholePlotsOf(runs, spec.factors)!.of;
  const random = seededRandom(seed);
  const ofPlot = Array.from({ length: wholePlots }, () => plot * random.normal());
  const readings = runs.flatMap((each, i): Reading[] => {
    const surface =
      Math.log(0.55) +
      1.2 * Math.log(Number(each.settings["feed"]) / 0.14) -
      0.15 * Math.log(Number(each.settings["speed"]) / 1700) +
      (each.settings["edge"] === "used" ? Math.log(1.2) : 0) +
      ofPlot[of[i] - 1] +
      run * random.normal();
    return [1, 2].map((spot) => ({
      run: each.run,
      response: "Ra",
      value: Math.exp(surface + reading * random.normal()),
      unit: "µm",
      spot,
      repeat: 1,
      taken: "",
      note: "",
      void: "",
    }));
  });
  return { name: "made", spec, runs, asCut: [], readings, checksum: "" };
}
