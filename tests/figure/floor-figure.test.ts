import { expect, test } from "vitest";
import { floorFigure, profileFigure } from "../../src/figure/index.ts";
import { fitCurve, fitFloor } from "../../src/model/index.ts";
import { openTrial } from "../../src/store/index.ts";
import { floorTruth, lifeTruth } from "../demo/further-trials.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const small = fitFloor(await openTrial("seal-face-small-feeds"), { response: "Ra" });
const usual = fitFloor(await openTrial("seal-face-usual-feeds"), { response: "Ra" });

test("a floor is drawn with its interval, the law without, and a row for each run", async () => {
  const figure = floorFigure(small);
  const root = expectSound(figure);
  for (const part of ["floor", "without", "curve"]) expect(partOf(root, part), part).toHaveLength(1);
  expect(figure.table.rows).toHaveLength(14);
  for (const sentence of small.sentences) expect(figure.description).toContain(sentence);
  await expectPicture(figure, "floor");
  expectSound(floorFigure(small, { display: "inch" }));
});

test("runs that can't tell a floor are drawn with a band down to none", () => {
  const figure = floorFigure(usual);
  expectSound(figure);
  expect(usual.tells).toBe("either");
  expect(figure.description).toMatch(/can't tell a floor from a smaller exponent/u);
});

test("a factor that is none is refused by name", () => {
  expect(() => floorFigure(small, { factor: "pace" })).toThrow(/"pace".*quantity of this fit \(feed\)/su);
});

test("the profile of the floor crosses its limits at the ends of its interval", async () => {
  const profile = small.profile()!;
  expect(profile.low).toBeLessThan(floorTruth.floorUm);
  expect(profile.high).toBeGreaterThan(floorTruth.floorUm);
  const at = (value: number) => {
    const after = profile.points.findIndex((point) => point.value >= value);
    const [a, b] = [profile.points[after - 1], profile.points[after]];
    return a.root + ((b.root - a.root) * (value - a.value)) / (b.value - a.value);
  };
  // Straight lines between points of a bent curve: a hundredth of a standard deviation.
  expect(Math.abs(at(profile.low!) + profile.limit)).toBeLessThan(0.02);
  expect(Math.abs(at(profile.high!) - profile.limit)).toBeLessThan(0.02);
  const figure = profileFigure(profile);
  const root = expectSound(figure);
  expect(partOf(root, "profile")).toHaveLength(1);
  await expectPicture(figure, "profile");
});

test("the profile of a straight line's slope is a straight line; an unknown parameter is refused", () => {
  const line = fitCurve(
    {
      columns: [
        { name: "x", unit: "", values: [0, 1, 2, 3] },
        { name: "y", unit: "", values: [0, 1.1, 1.9, 3.1] },
      ],
    },
    { response: "y", expression: "a + b*x", start: { a: 0, b: 1 } },
  );
  const { points, low, high, estimate } = line.profile("b")!;
  expect(high! - estimate).toBeCloseTo(estimate - low!, 6);
  expect(points.at(-1)!.root).toBeCloseTo(-points[0].root, 6);
  expectSound(profileFigure(line.profile("b")!));
  expect(() => line.profile("c")).toThrow(/"c" as a parameter/u);
});

test("the profile of the speed for an hour of life holds the true speed", async () => {
  const trial = await openTrial("port-face-edge-life");
  const values = new Map(trial.readings.map(({ run, value }) => [run, value]));
  const life = fitCurve(
    {
      columns: [
        { name: "speed", unit: "m/min", values: trial.runs.map(({ settings }) => settings["speed"]) },
        { name: "life", unit: "min", values: trial.runs.map(({ run }) => values.get(run)!) },
      ],
    },
    {
      response: "log(life)",
      expression: "log(60) - steepness * log(speed / allowed)",
      start: { steepness: 3, allowed: 180 },
      intervals: "profile",
    },
  );
  const { low, high } = life.profile("allowed")!;
  expect(low).toBeLessThan(lifeTruth.speedFor60);
  expect(high).toBeGreaterThan(lifeTruth.speedFor60);
});
