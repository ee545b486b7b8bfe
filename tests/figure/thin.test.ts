import fc from "fast-check";
import { expect, test } from "vitest";
import { marksFor, thinningText } from "../../src/figure/thin.ts";

test("few readings each get their own mark at their own place", () => {
  const places = [
    { x: 1, y: 2 },
    { x: 1, y: 2 },
  ];
  expect(marksFor(places)).toEqual([
    { x: 1, y: 2, count: 1 },
    { x: 1, y: 2, count: 1 },
  ]);
});

test("many readings are counted, none lost, none drawn outside their own cell's readings", () => {
  const place = fc.record({
    x: fc.double({ min: 0, max: 600, noNaN: true }),
    y: fc.double({ min: 0, max: 300, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(place, { minLength: 60, maxLength: 400 }), (places) => {
      const marks = marksFor(places, { most: 50 });
      expect(marks.length).toBeLessThanOrEqual(50);
      expect(marks.reduce((sum, mark) => sum + mark.count, 0)).toBe(places.length);
      const mean = (values: readonly number[]): number =>
        values.reduce((sum, value) => sum + value, 0) / places.length;
      // The counted mean of the marks is the mean of the readings: thinning moves nothing on the whole.
      expect(mean(marks.map((mark) => mark.x * mark.count))).toBeCloseTo(mean(places.map(({ x }) => x)), 6);
      expect(mean(marks.map((mark) => mark.y * mark.count))).toBeCloseTo(mean(places.map(({ y }) => y)), 6);
    }),
    { seed: 14 },
  );
});

test("thinning is owned up to", () => {
  expect(
    thinningText(
      [
        { x: 0, y: 0, count: 5 },
        { x: 9, y: 9, count: 1 },
      ],
      6,
      "readings",
    ),
  ).toBe(
    "6 readings are drawn as 2 marks at the mean place of their neighbours; a larger mark stands for more of them, up to 5.",
  );
  expect(thinningText([{ x: 0, y: 0, count: 1 }], 1, "readings")).toBe("");
});
