import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import {
  bendIntervals,
  fitLinear,
  fitMixed,
  observeTable,
  stationaryRegion,
  type Term,
} from "../../../src/model/index.ts";
import { fUpperQuantile, seededRandom } from "../../../src/numerics/index.ts";
import { openTrial } from "../../../src/store/index.ts";
import { readCoverage } from "../../coverage/coverage-table.ts";
import { fitOf, workedExample } from "../../reference/worked-example.ts";

const example = workedExample("yield-central-composite");
const fit = fitOf(example, example.analyses[0]);

describe("the level point of the yield example (Montgomery, example 11.2)", () => {
  const region = stationaryRegion(fit);

  test("a setting belongs to the region exactly where its slope is within chance of zero", () => {
    const coded = fitOf(example, example.analyses[0], { coded: true });
    const place = (term: Term) =>
      coded.coefficients.findIndex(({ term: own }) => JSON.stringify(own) === JSON.stringify(term));
    const terms: readonly Term[] = [
      { time: 1 },
      { temperature: 1 },
      { time: 2 },
      { temperature: 2 },
      { time: 1, temperature: 1 },
    ];
    const order = terms.map(place);
    const b = order.map((k) => coded.coefficients[k].estimate);
    const limit = 2 * fUpperQuantile(0.05, 2, coded.residualDf);
    let held = 0;
    for (let i = -10; i <= 10; i++)
      for (let j = -10; j <= 10; j++) {
        const [x, z] = [i / 10, j / 10];
        // Plain: slope = (b1 + 2 b11 x + b12 z, b2 + 2 b22 z + b12 x).
        const rows = [
          [1, 0, 2 * x, 0, z],
          [0, 1, 0, 2 * z, x],
        ];
        const slope = rows.map((row) => row.reduce((sum, weight, k) => sum + weight * b[k], 0));
        const s = rows.map((p) =>
          rows.map((q) =>
            p.reduce(
              (sum, left, m) =>
                sum +
                q.reduce(
                  (inner, right, n) => inner + left * right * coded.covariance![order[m]][order[n]],
                  0,
                ),
              0,
            ),
          ),
        );
        const determinant = s[0][0] * s[1][1] - s[0][1] ** 2;
        const size =
          (slope[0] ** 2 * s[1][1] - 2 * slope[0] * slope[1] * s[0][1] + slope[1] ** 2 * s[0][0]) /
          determinant;
        expect(region.contains({ time: x, temperature: z })).toBe(size <= limit);
        if (size <= limit) held++;
      }
    expect(held).toBeGreaterThan(3);
  });

  test("is bounded, holds the estimate, and its extent touches no setting outside", () => {
    expect(region.bounded).toBe(true);
    expect(region.contains(fit.surface!.stationary!)).toBe(true);
    const [time, temperature] = region.extent;
    expect(time.low).toBeLessThan(fit.surface!.stationary!["time"]);
    for (let z = -1.4; z <= 1.4; z += 0.02) {
      expect(region.contains({ time: time.low - 0.01, temperature: z })).toBe(false);
      expect(region.contains({ time: time.high + 0.01, temperature: z })).toBe(false);
      expect(region.contains({ time: z, temperature: temperature.high + 0.01 })).toBe(false);
    }
    expect(region.text).toBe(
      "With 95 % confidence the level point of yield lies within time 0.259 to 0.576, temperature 0.135 to 0.561. 2 % of the range that was cut can't be ruled out.",
    );
  });

  test("both axes bend down, beyond doubt", () => {
    const bends = bendIntervals(fit);
    expect(bends.map(({ bends: way }) => way)).toEqual(["down", "down"]);
    // Montgomery, example 11.2: −0.9635 and −1.4143.
    expect(bends.map(({ value }) => value.estimate)).toEqual([
      expect.closeTo(-0.9635, 3),
      expect.closeTo(-1.4143, 3),
    ]);
  });
});

test("a square's interval is the eigenvalue's where the axis is the factor", () => {
  const x = [-1, -1, 0, 0, 0, 1, 1];
  const single = fitLinear(
    observeTable(
      {
        columns: [
          { name: "feed", unit: "mm/rev", values: x },
          { name: "Ra", unit: "µm", values: [2.1, 1.9, 1.0, 1.1, 0.9, 2.2, 1.8] },
        ],
      },
      { response: "Ra", factors: ["feed"] },
    ),
    { model: "surface", coded: true },
  );
  const square = single.coefficients.find(({ term }) => term["feed"] === 2)!;
  const [bend] = bendIntervals(single);
  expect(bend.value).toMatchObject({
    low: expect.closeTo(square.low!, 10) as number,
    high: expect.closeTo(square.high!, 10) as number,
  });
  expect(bend.text).toMatch(
    /^Along feed Ra bends up: one coded step from the level point changes it by 1\.0, 95 % /,
  );
});

test("a saddle that is barely one has a region without end, and says so", () => {
  const box = workedExample("box-behnken-4");
  const region = stationaryRegion(fitOf(box, box.analyses[0]));
  expect(region.bounded).toBe(false);
  expect(region.text).toContain(
    "is not pinned down: with 95 % confidence the level point may lie any distance away",
  );
});

test("refused: no surface, and no scatter left", () => {
  const table = (values: readonly number[]) =>
    observeTable(
      {
        columns: [
          { name: "x", unit: "", values: values.map((_, i) => i) },
          { name: "y", unit: "", values },
        ],
      },
      { response: "y", factors: ["x"] },
    );
  expect(() => stationaryRegion(fitLinear(table([1, 2, 4, 5])))).toThrow(
    'a surface without a level point; expected a fit with every square, such as model: "surface".',
  );
  expect(() => stationaryRegion(fitLinear(table([3, 1, 2]), { model: "surface" }))).toThrow(
    "Cut replicates.",
  );
});

test("a factor that was cut above 0 only has no level point below 0", async () => {
  const plain = fitLinear(await openTrial("seal-face-surface"), { response: "Ra", model: "surface" });
  const region = stationaryRegion(plain);
  expect(region.extent[0]).toMatchObject({ factor: "feed", low: 0 });
  expect(region.text).toMatch(/within feed up to 0\.1\d+ mm\/rev, speed/u);
});

test("on logarithms a bend is told as what it multiplies the response by", async () => {
  const fit = fitLinear(await openTrial("seal-face-surface"), {
    response: "Ra",
    model: "surface",
    log: true,
  });
  const [steep] = bendIntervals(fit);
  if (!("low" in steep.value)) throw new Error("no interval");
  expect(steep.text).toContain(`multiplies it by ${Math.exp(steep.value.estimate).toFixed(2)}, 95 %`);
});

test("with random sources the text tells how often such regions held, as the committed table has it", async () => {
  const table = await readFile(new URL("../../coverage/coverage.csv", import.meta.url), "utf8");
  const random = seededRandom(3);
  const runs = [-1, 1, 0, -1, 0, 1, 0, 0].flatMap((x, plot) => [-1, 0, 0, 1].map((z) => ({ x, z, plot })));
  const plots = Array.from({ length: 8 }, () => 0.2 * random.normal());
  const columns = [
    { name: "plot", unit: "", values: runs.map(({ plot }) => `plot ${plot}`) },
    { name: "x", unit: "", values: runs.map(({ x }) => x) },
    { name: "z", unit: "", values: runs.map(({ z }) => z) },
    {
      name: "y",
      unit: "",
      values: runs.map(({ x, z, plot }) => 9 - 2 * x * x - z * z + plots[plot] + 0.2 * random.normal()),
    },
  ];
  const { text } = stationaryRegion(
    fitMixed(observeTable({ columns }, { response: "y", factors: ["x", "z"], random: ["plot"] }), {
      model: "surface",
    }),
  );
  const lines = readCoverage(table).filter(({ name }) => name.startsWith("mixed: region of the level point"));
  expect(lines.length).toBe(2);
  for (const { share, trials } of lines) {
    expect(text).toContain(`in ${(100 * share).toFixed(1)} % `);
    expect(trials).toBe(10_000);
  }
});
