import { describe, expect, test } from "vitest";
import {
  compareLevels,
  equivalence,
  fitLinear,
  isInterval,
  scatterFromReplicates,
  type Uncertain,
} from "../../src/model/index.ts";
import { remarks } from "../../src/review/index.ts";
import { openTrial } from "../../src/store/index.ts";
import { edgesSeed, edgesTruth, inventedEdgeReadings } from "./edges-trial.ts";

const edges = await openTrial("cover-edge-comparison");
const fit = fitLinear(edges, { response: "Ra", log: true });

function interval(value: Uncertain) {
  if (!isInterval(value)) throw new Error(value.reason);
  return value;
}

describe("the invented comparison of edges", () => {
  test("is labelled invented and is what the script makes of its truths and its seed, reading by reading", () => {
    expect(edges.spec.dataKind).toBe("invented");
    expect(edges.spec.source).toContain("tests/demo/edges-trial.ts");
    const values = (readings: readonly { value: number }[]) => readings.map(({ value }) => value);
    expect(values(inventedEdgeReadings(edgesTruth, edges.runs, { seed: edgesSeed }))).toEqual(
      values(edges.readings),
    );
  });

  test("holds the true ratios of every pair, and tells the one edge apart from the two", () => {
    const truth = edgesTruth.raUm;
    for (const { from, to, value, p } of compareLevels(fit).pairs) {
      const { low, high } = interval(value);
      expect(low).toBeLessThan(truth[to] / truth[from]);
      expect(high).toBeGreaterThan(truth[to] / truth[from]);
      expect(p! < 0.05).toBe(from === "ground" || to === "ground");
    }
  });

  test("shows the two alike within a tenth, and the one beyond it", () => {
    const verdicts = equivalence(fit, { margin: 1.1 }).pairs.map(
      ({ from, to, verdict }) => `${from} ${to} ${verdict}`,
    );
    expect(verdicts).toEqual(["ground honed beyond", "ground coated beyond", "honed coated within"]);
  });

  test("shows which edge scatters, with intervals that hold the true ratios", () => {
    const spots = edgesTruth.spotScatter ** 2 / 2;
    const scatter = (edge: string) => Math.sqrt(edgesTruth.runScatter[edge] ** 2 + spots);
    for (const { from, to, value } of scatterFromReplicates(fit).scatter) {
      const { low, high } = interval(value);
      const ratio = scatter(String(to)) / scatter(String(from));
      expect(low).toBeLessThan(ratio);
      expect(high).toBeGreaterThan(ratio);
      expect(high).toBeLessThan(1);
    }
  });

  test("raises the one remark that its truth deserves: the ground edge scatters most", () => {
    const raised = remarks(edges, fit);
    expect(raised.map(({ kind }) => kind)).toEqual(["levels-scatter-unlike"]);
    expect(raised[0].title).toContain("more with edge ground than with coated");
    const { ground, honed, coated } = edgesTruth.runScatter;
    expect(ground).toBeGreaterThan(Math.max(honed, coated));
  });
});
