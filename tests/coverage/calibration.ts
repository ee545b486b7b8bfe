import {
  fitCurve,
  fitLinear,
  fitPowerLaw,
  isInterval,
  observeTable,
  settingFor,
} from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { drawnTogether, type CoverageCase } from "./coverage-case.ts";
import { holds } from "./mixed.ts";

const feeds = [0.08, 0.12, 0.16, 0.24];
const cut = (runs: number): readonly number[] =>
  Array.from({ length: runs }, (_, run) => feeds[run % feeds.length] ?? 0);

const wanted = 0.15;

/** The feed that gives a wanted mean, and the feed behind one reading; a straight line of feed. */
function line(runs: number, random: SeededRandom) {
  const mean = (feed: number): number => 0.2 + 3 * feed;
  const columns = [
    { name: "feed", unit: "mm/rev", values: cut(runs) },
    { name: "Ra", unit: "µm", values: cut(runs).map((feed) => mean(feed) + 0.05 * random.normal()) },
  ];
  const fit = fitLinear(observeTable({ columns }, { response: "Ra", factors: ["feed"] }));
  const inside = (response: number, readings: number): boolean =>
    settingFor(fit, { factor: "feed", response, readings }).pieces.some(
      ({ low, high }) => (low ?? -Infinity) <= wanted && wanted <= (high ?? Infinity),
    );
  return [inside(mean(wanted), Infinity), inside(mean(wanted) + 0.05 * random.normal(), 1)];
}

/** An approach to a limit, with its rate by profile likelihood and by the slope at the solution. */
function approach(runs: number, random: SeededRandom) {
  const x = Array.from({ length: runs }, (_, run) => [1, 2, 4, 8][run % 4] ?? 0);
  const y = x.map((at) => 2 * (1 - Math.exp(-0.4 * at)) + 0.1 * random.normal());
  const fitted = (intervals: "linear" | "profile") =>
    fitCurve(
      {
        columns: [
          { name: "x", unit: "", values: x },
          { name: "y", unit: "", values: y },
        ],
      },
      { response: "y", expression: "b1*(1-exp(-b2*x))", start: { b1: 2, b2: 0.4 }, intervals },
    );
  return (["profile", "linear"] as const).map((intervals) => {
    const rate = fitted(intervals).parameters.find(({ name }) => name === "b2");
    if (rate === undefined || rate.standardError === null) return null;
    return (rate.low ?? -Infinity) <= 0.4 && 0.4 <= (rate.high ?? Infinity);
  });
}

/** A power law of feed whose level an edge shifts. */
function lawWithEdge(runs: number, random: SeededRandom) {
  const edge = Array.from({ length: runs }, (_, run) => (Math.floor(run / 4) % 2 === 0 ? "fresh" : "worn"));
  const columns = [
    { name: "feed", unit: "mm/rev", values: cut(runs) },
    { name: "edge", unit: "", values: edge },
    {
      name: "Ra",
      unit: "µm",
      values: cut(runs).map(
        (feed, i) => 12 * feed ** 1.4 * (edge[i] === "worn" ? 1.3 : 1) * Math.exp(0.1 * random.normal()),
      ),
    },
  ];
  const fit = fitPowerLaw(observeTable({ columns }, { response: "Ra", factors: ["feed", "edge"] }));
  const exponent = fit.coefficients.find(({ label }) => label === "feed");
  const worn = fit.effects.find(({ factor }) => factor === "edge");
  return [
    exponent === undefined || exponent.low === null || exponent.high === null
      ? null
      : exponent.low <= 1.4 && 1.4 <= exponent.high,
    worn !== undefined && isInterval(worn.value) ? holds(worn.value, 1.3) : null,
  ];
}

/** Settings worked back from a response, curves by expression, and power laws with a category. */
export const calibrationCases: readonly CoverageCase[] = [
  ...[8, 16].flatMap((runs, k) =>
    drawnTogether(
      8400 + k,
      [
        { name: `feed that gives a wanted mean, ${runs} runs`, nominal: 0.95, fewer: 4000 },
        { name: `feed behind one reading, ${runs} runs`, nominal: 0.95, fewer: 4000 },
      ],
      (random) => line(runs, random),
    ),
  ),
  ...[8, 16].flatMap((runs, k) =>
    drawnTogether(
      8410 + k,
      [
        { name: `rate of a curve by profile likelihood, ${runs} runs`, nominal: 0.95 },
        { name: `rate of a curve by its slope, ${runs} runs`, nominal: 0.95 },
      ],
      (random) => approach(runs, random),
    ),
  ),
  ...[8, 16, 32].flatMap((runs, k) =>
    drawnTogether(
      8420 + k,
      [
        { name: `exponent of a power law with an edge, ${runs} runs`, nominal: 0.95 },
        { name: `ratio of worn to fresh edge by a power law, ${runs} runs`, nominal: 0.95 },
      ],
      (random) => lawWithEdge(runs, random),
    ),
  ),
];
