import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatNumber, parseNumber, readNumber, UnitError } from "../../src/units/index.ts";

describe("readNumber", () => {
  it.each([
    ["0.8", 0.8],
    ["0,8", 0.8],
    [".25", 0.25],
    [",25", 0.25],
    ["5.", 5],
    ["1.250", 1.25],
    ["0,800", 0.8], // no group of thousands starts with a nought
    ["1,00", 1],
    ["1,0000", 1],
    ["12,5", 12.5],
    ["1 000", 1000],
    ["1\u00a0000", 1000], // no-break space
    ["1\u202f000", 1000], // narrow no-break space
    ["1\u2009000 000", 1e6], // thin space
    ["1 000,5", 1000.5],
    ["1 000.25", 1000.25],
    ["1'000", 1000],
    ["1’000", 1000],
    ["1,000.5", 1000.5],
    ["1.000,5", 1000.5],
    ["1,000,000", 1e6],
    ["1.000.000", 1e6],
    ["-0.5", -0.5],
    ["\u22120.5", -0.5],
    ["+3", 3],
    ["1e-3", 0.001],
    ["1,5E3", 1500],
    ["1.2×10⁻³", 0.0012],
    ["1.2 x 10^-3", 0.0012],
    ["2·10^4", 20000],
    ["3/8", 0.375],
    ["1 1/2", 1.5],
    ["1-1/2", 1.5],
    ["-1 1/2", -1.5],
    ["¾", 0.75],
    ["1½", 1.5],
    [" 7 ", 7],
    ["0.1234567890123456789", 0.12345678901234568],
  ])("reads %j as %f", (text, value) => {
    expect(parseNumber(text)).toBe(value);
  });

  it("asks whether 1,000 is one or a thousand", () => {
    expect(readNumber("1,000")).toEqual({
      kind: "question",
      question:
        '"1,000" can be read in two ways. Write "1000" for 1000 (the comma parts the thousands) or "1" for 1 (the comma stands before the decimals).',
      choices: [
        {
          write: "1000",
          meaning: "1000 (the comma parts the thousands)",
          quantity: { value: 1000, unit: "1", dimension: "ratio" },
        },
        {
          write: "1",
          meaning: "1 (the comma stands before the decimals)",
          quantity: { value: 1, unit: "1", dimension: "ratio" },
        },
      ],
    });
  });

  it("offers readings that can't be mistaken themselves", () => {
    for (const text of ["1,000", "12,345", "-999,999", "1,250e2"]) {
      const answer = readNumber(text);
      if (answer.kind !== "question") throw new Error(`${text} was not asked about`);
      expect(answer.choices.map(({ write }) => parseNumber(write))).toEqual(
        answer.choices.map(({ quantity }) => quantity?.value),
      );
    }
  });

  it("does not ask where the writer's decimal sign is known", () => {
    expect(parseNumber("1,000", { decimal: "comma" })).toBe(1);
    expect(parseNumber("1,000", { decimal: "point" })).toBe(1000);
    expect(parseNumber("0,8", { decimal: "comma" })).toBe(0.8);
    // Among decimal commas a lone point with three digits is a question; with any other number of digits it is none.
    expect(parseNumber("1.5", { decimal: "comma" })).toBe(1.5);
    const answer = readNumber("1.250", { decimal: "comma" });
    if (answer.kind !== "question") throw new Error("not asked about");
    expect(answer.choices.map(({ write }) => parseNumber(write, { decimal: "comma" }))).toEqual([1250, 1.25]);
  });

  it.each([
    "",
    " ",
    "abc",
    "NaN",
    "Infinity",
    "0x10",
    "1 0",
    "1 00",
    "10 00",
    "1,00,000",
    "1,000.000.5",
    "1.000,000,5",
    "1..5",
    "--5",
    "1e",
    "e5",
    "1e400",
    "1/0",
    "1/",
    "1_000_0",
    "=1+1",
    "1e-999999999",
    "9".repeat(500),
  ])("refuses %j", (text) => {
    expect(readNumber(text).kind).toBe("refused");
    expect(() => parseNumber(text)).toThrow(UnitError);
  });

  it("tells how to write a number", () => {
    expect(() => parseNumber("abc")).toThrow(
      new UnitError("unreadable", '"abc" is not a number. Write one such as "0.8", "0,8", "1 000" or "3/8".'),
    );
    expect(() => parseNumber("")).toThrow('No number was given. Write one such as "0.8" or "0,8".');
  });

  it("reads every double back from its own text, with point and with comma", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(parseNumber(String(value))).toBe(value + 0);
        const comma = String(value).replace(".", ",");
        const answer = readNumber(comma);
        if (answer.kind === "question") expect(comma).toMatch(/^-?[1-9]\d{0,2},\d{3}(e|$)/);
        else expect(answer).toEqual({ kind: "value", value: value + 0 });
      }),
      { seed: 31 },
    );
  });

  it("never throws anything but a UnitError, whatever was typed", () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(..."0123456789.,' -+eE/½×10⁻³\u202fµ") }), (text) => {
        const answer = readNumber(text);
        if (answer.kind === "value") expect(Number.isFinite(answer.value)).toBe(true);
      }),
      { seed: 32, numRuns: 2000 },
    );
  });

  it("reads what formatNumber writes", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e300, max: 1e300, noNaN: true }),
        fc.integer({ min: 1, max: 15 }),
        (value, digits) => {
          const back = parseNumber(formatNumber(value, { digits }));
          expect(back).toBe(Number(value.toPrecision(digits)) + 0);
        },
      ),
      { seed: 33 },
    );
  });
});
