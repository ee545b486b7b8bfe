import { expect, test } from "vitest";
import { normalQuantileFigure } from "../../src/figure/index.ts";
import { normalPlaces } from "../../src/figure/normal-band.ts";
import { textWidth } from "../../src/figure/text-width.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { factorialFit, sweepFit } from "./hand-made-fit.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("one mark a run, in rising order against Blom's places", async () => {
  const figure = normalQuantileFigure(factorialFit());
  const root = expectSound(figure);
  expect(partOf(root, "residuals").length).toBe(16);
  expect(partOf(root, "band").length).toBe(1);
  const expected = figure.table.rows.map((row) => Number(row[2]));
  // Blom: Φ⁻¹(0.625/16.25) = −1.7688, from R's qnorm(0.625 / 16.25) = -1.768825.
  expect(expected[0]).toBeCloseTo(-1.768825, 6);
  expect(expected[15]).toBeCloseTo(1.768825, 6);
  await expectPicture(figure, "normal-quantiles");
});

test("the band's middle is the beta distribution of ordered values", () => {
  const [first] = normalPlaces(16, 1e-9);
  // The smallest of 16: 1 − (1 − u)^16 = 1/2 gives u = 0.0423967, and Φ⁻¹(u) = −1.7235 (R: qnorm(1 - 0.5^(1/16)) = -1.723526).
  expect(first.low).toBeCloseTo(-1.723526, 5);
  expect(first.high).toBeCloseTo(-1.723526, 5);
});

test("with normal scatter a 95 % band holds about 95 % of residuals", () => {
  const random = seededRandom(20261125);
  const count = 24;
  const trials = 2000;
  const places = normalPlaces(count, 0.95);
  let inside = 0;
  for (let trial = 0; trial < trials; trial++) {
    const values = Array.from({ length: count }, () => random.normal());
    const mean = values.reduce((sum, value) => sum + value, 0) / count;
    const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1));
    const sorted = values
      .map((value) => (value - mean) / (sd * Math.sqrt(1 - 1 / count)))
      .sort((a, b) => a - b);
    inside += sorted.filter(
      (value, index) => value >= places[index].low && value <= places[index].high,
    ).length;
  }
  const share = inside / (count * trials);
  // 48,000 places, correlated within a trial: the standard error is below 0.004.
  expect(share).toBeGreaterThan(0.94);
  expect(share).toBeLessThan(0.97);
});

test("a fit that leaves no scatter is refused with the reason", () => {
  expect(() => normalQuantileFigure(sweepFit({ t: null }))).toThrow(
    "a fit of Ra that leaves no scatter (every run is used up by the model; cut a replicate.): expected runs left over to judge residuals by.",
  );
});

test("names of runs outside the band never cover one another, the farthest come first, and the rest are counted", () => {
  // Half the runs far out to either side: a scatter of two sizes, with most of the small ones outside the band.
  const fit = factorialFit();
  const rows = Array.from({ length: 60 }, (_, at) => ({
    ...fit.rows[at % fit.rows.length],
    run: at + 1,
    order: at + 1,
    leverage: 0.1,
    residual: (at % 2 === 0 ? 1 : -1) * (at < 44 ? 0.004 : 0.2 + 0.001 * at),
    value: 0,
  }));
  const figure = normalQuantileFigure({ ...fit, rows });
  const root = expectSound(figure);
  const names = partOf(root, "run-names");
  expect(names.length).toBeGreaterThan(1);
  expect(names.length).toBeLessThanOrEqual(8);
  const outside = Number(/(\d+) of 60 residuals lie outside/.exec(figure.description)?.[1]);
  expect(outside).toBeGreaterThan(8);
  expect(figure.svg).toContain(`and ${outside - names.length} more`);
  expect(figure.description).toContain(`and ${outside - 8} more)`);
  const written =
    /data-part="run-names"[^>]*><text transform="translate\(([\d.-]+),([\d.-]+)\)"[^>]*>(run \d+)</g;
  const boxes = [...figure.svg.matchAll(written)].map(([, x, y, text]) => ({
    x: Number(x),
    y: Number(y),
    wide: textWidth(text, 12),
  }));
  expect(boxes.length).toBe(names.length);
  for (const [at, one] of boxes.entries())
    for (const other of boxes.slice(at + 1))
      expect(
        Math.abs(one.y - other.y) >= 10 || one.x + one.wide < other.x || other.x + other.wide < one.x,
      ).toBe(true);
});
