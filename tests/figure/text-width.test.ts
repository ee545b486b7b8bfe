import fc from "fast-check";
import { expect, test } from "vitest";
import { shortened, textWidth, wrapped } from "../../src/figure/text-width.ts";

test("widths follow Helvetica's published metrics", () => {
  expect(textWidth("0123456789", 10)).toBeCloseTo(55.6, 10); // ten digits of 556
  expect(textWidth("Ra, µm", 1000)).toBeCloseTo(722 + 556 + 278 + 278 + 576 + 833, 10);
});

test("a shortened text is never wider than its room, if the room holds one character and the ellipsis", () => {
  fc.assert(
    fc.property(
      fc.string({ minLength: 1, maxLength: 60 }),
      fc.integer({ min: 40, max: 300 }),
      (text, room) => {
        expect(textWidth(shortened(text, room, 12), 12)).toBeLessThanOrEqual(room);
      },
    ),
    { seed: 11 },
  );
});

test("wrapping loses no word while no word is too long and lines are not counted", () => {
  fc.assert(
    fc.property(fc.array(fc.stringMatching(/^[a-z]{1,8}$/u), { maxLength: 30 }), (words) => {
      const lines = wrapped(words.join(" "), 120, 12);
      expect(lines.join(" ")).toBe(words.join(" "));
      for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(120);
    }),
    { seed: 12 },
  );
});

test("what does not fit on the last line is given up with an ellipsis", () => {
  expect(wrapped("one two three four five six", 60, 12, { most: 2 })).toEqual(["one two", "three fou…"]);
});
