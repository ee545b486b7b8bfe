import fc from "fast-check";
import { expect, test } from "vitest";
import { columnText } from "../../src/notebook/column-text.ts";

test("numbers of a column share their decimals", () => {
  expect(columnText([0.08, 0.16, 0.1, null, 2])).toEqual(["0.08", "0.16", "0.10", "–", "2.00"]);
  expect(columnText([1200, 2400])).toEqual(["1200", "2400"]);
  expect(columnText([-1.5, 2])).toEqual(["\u22121.5", "2.0"]);
});

test("no more than five significant digits are shown", () => {
  expect(columnText([0.123456789])).toEqual(["0.12346"]);
  expect(columnText([1234.56789])).toEqual(["1234.6"]);
});

test("a column too wide to share decimals writes each number by itself", () => {
  expect(columnText([1.5e-12, 0.00023, 1234.5])).toEqual(["1.50 × 10⁻¹²", "0.00023", "1234.5"]);
});

test("every finite number is shown to five significant digits, and zero as zero", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e8, max: 1e8 }), (value) => {
      const [text = ""] = columnText([value]);
      if (Math.abs(value) < 1e-4) return true;
      const shown = Number(text.replaceAll("\u2212", "-"));
      return Math.abs(shown - value) <= 0.5000001 * 10 ** (Math.floor(Math.log10(Math.abs(value))) - 4);
    }),
    { seed: 20261125 },
  );
  expect(columnText([0, 0])).toEqual(["0", "0"]);
});
