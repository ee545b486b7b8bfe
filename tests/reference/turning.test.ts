import { expect, test } from "vitest";
import { fitMixed, fitPowerLaw, isInterval, observeTable } from "../../src/model/index.ts";
import { mean, standardDeviation } from "../../src/numerics/index.ts";
import { workedExample } from "./worked-example.ts";

// Open turning data (doi 10.5281/zenodo.17438392, CC BY 4.0), which publish no analysis; figures by base R 4.2, see recompute.R for the rest of them.
const { columns } = workedExample("turning-12l14");
const column = (name: string) => columns.find((one) => one.name === name)!.values;
const ra = Float64Array.from(column("Ra"), Number);

test("2,448 readings of Ra have the mean, scatter and geometric mean that R gives", () => {
  expect(ra).toHaveLength(2448);
  expect(mean(ra) / 1.98431781045752).toBeCloseTo(1, 13);
  expect(standardDeviation(ra) / 1.28475399681926).toBeCloseTo(1, 13);
  expect(Math.exp(mean(ra.map(Math.log))) / 1.73561780367501).toBeCloseTo(1, 13);
});

const cell = column("run").map((run, i) =>
  [run, column("diameter")[i], column("edge")[i], column("position")[i]].join(" "),
);

test("twelve readings of a cell scatter by 12.3 % (pooled over 204 cells)", () => {
  const fit = fitMixed(
    observeTable(
      {
        columns: [...columns.filter(({ name }) => name !== "run"), { name: "cell", unit: "", values: cell }],
      },
      { response: "Ra", factors: [], random: ["cell"], log: true },
    ),
    { log: true },
  );
  const [between, within] = fit.variances;
  // 204 cells of 12: the variance within is the pooled one.
  expect(within.standardDeviation / 0.122753716608464).toBeCloseTo(1, 8);
  // All of the scatter beyond: the plain variance of the 204 means less a twelfth of that within.
  const sums = new Map<string, number>();
  cell.forEach((name, i) => sums.set(name, (sums.get(name) ?? 0) + Math.log(ra[i]) / 12));
  const ofMeans = standardDeviation(Float64Array.from(sums.values())) ** 2;
  expect(between.variance / (ofMeans - within.variance / 12)).toBeCloseTo(1, 8);
  expect(between.share + within.share).toBeCloseTo(1, 12);
});

test("the worn edge against the new one is a ratio of geometric means, with an interval that leaves out 1", () => {
  const fit = fitPowerLaw(
    observeTable(
      { columns: columns.filter(({ name }) => name !== "run") },
      { response: "Ra", factors: ["speed", "feed", "depth", "edge"] },
    ),
  );
  const effect = fit.effects.find(({ factor }) => factor === "edge")!;
  const logMean = (edge: string) => {
    const own = ra.filter((_, i) => column("edge")[i] === edge);
    return mean(own.map(Math.log));
  };
  // Every setting was cut with both edges alike, so the other terms take nothing away.
  const plain = Math.exp(logMean(String(effect.to)) - logMean(String(effect.from)));
  expect(effect.value.estimate! / plain).toBeCloseTo(1, 10);
  if (!isInterval(effect.value)) throw new Error(effect.value.reason);
  expect(effect.value.low > 1 || effect.value.high < 1).toBe(true);
});
