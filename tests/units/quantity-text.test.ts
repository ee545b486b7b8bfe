import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formatQuantity,
  parseQuantity,
  quantity,
  readQuantity,
  unitNames,
  UnitError,
} from "../../src/units/index.ts";
import type { Answer, Quantity } from "../../src/units/index.ts";

function questionAbout(answer: Answer<Quantity>): Extract<Answer<Quantity>, { kind: "question" }> {
  if (answer.kind !== "question") throw new Error(`answered with ${answer.kind}`);
  return answer;
}

describe("readQuantity", () => {
  it.each([
    ["0.010 in/rev", 0.01, "in/rev"],
    [".25mm/rev", 0.25, "mm/rev"],
    ["31 µin", 31, "µin"],
    ["31 uin", 31, "µin"],
    ["31 \u03bcin", 31, "µin"],
    ["31µin", 31, "µin"],
    ["1 000 rev/min", 1000, "rev/min"],
    ["1\u202f000 rev/min", 1000, "rev/min"],
    ["1000 1/min", 1000, "rev/min"],
    ["1 000 min⁻¹", 1000, "rev/min"],
    ["0,8 µm", 0.8, "µm"],
    ["10 thou", 10, "thou"],
    ["0.004ipr", 0.004, "in/rev"],
    ["20 ipm", 20, "in/min"],
    ["1200 rpm", 1200, "rev/min"],
    ["825 sfm", 825, "ft/min"],
    ['3/8"', 0.375, "in"],
    ['1 1/2"', 1.5, "in"],
    ["1-1/2 in", 1.5, "in"],
    ["½ in", 0.5, "in"],
    ["45°", 45, "°"],
    ["-20 °C", -20, "°C"],
    ["12.5 %", 12.5, "%"],
    ["Ra 0.8 µm", 0.8, "µm"],
    ["Rz: 4 µm", 4, "µm"],
    ["Ø80 mm", 80, "mm"],
    ["2 in²", 2, "in²"],
    ["1.2×10⁻³ mm", 0.0012, "mm"],
    ["5. mm", 5, "mm"],
  ])("reads %j as %f %s", (text, value, unit) => {
    expect(parseQuantity(text)).toMatchObject({ value, unit });
  });

  it("takes the expected unit for a number without one, and keeps a typed unit", () => {
    expect(parseQuantity("0.8", { unit: "µm" })).toEqual(quantity(0.8, "µm"));
    expect(parseQuantity("31 µin", { unit: "µm" })).toEqual(quantity(31, "µin"));
    expect(parseQuantity("50", { unit: "%" })).toEqual(quantity(50, "%"));
    expect(parseQuantity("3", { dimension: "ratio" })).toEqual(quantity(3, "1"));
  });

  it("asks whether 1,000 rev/min is one or a thousand", () => {
    const question = questionAbout(readQuantity("1,000 rev/min"));
    expect(question.question).toBe(
      '"1,000 rev/min" can be read in two ways. Write "1000 rev/min" for 1000 (the comma parts the thousands) or ' +
        '"1 rev/min" for 1 (the comma stands before the decimals).',
    );
    expect(question.choices.map((choice) => choice.quantity)).toEqual([
      quantity(1000, "rev/min"),
      quantity(1, "rev/min"),
    ]);
    expect(
      questionAbout(readQuantity("1,000", { unit: "rev/min" })).choices.map(({ quantity: meant }) => meant),
    ).toEqual([quantity(1000, "rev/min"), quantity(1, "rev/min")]);
    expect(parseQuantity("1,000 rev/min", { decimal: "comma" })).toEqual(quantity(1, "rev/min"));
  });

  it("asks for the unit of a bare number where none is expected", () => {
    const question = questionAbout(readQuantity("Ra 31"));
    expect(question.question).toBe(
      '"Ra 31" has no unit. Write "31 µm" for 31 µm (1220 µin) or "31 µin" for 31 µin (0.7874 µm).',
    );
    expect(questionAbout(readQuantity("31")).choices.map(({ write }) => write)).toEqual([
      "31 µm",
      "31 µin",
      "31 mm",
      "31 in",
    ]);
    expect(
      questionAbout(readQuantity("0.1", { dimension: "feed per revolution" })).choices.map(
        ({ write }) => write,
      ),
    ).toEqual(["0.1 mm/rev", "0.1 in/rev"]);
  });

  it("asks what mil, tenths and micro mean, with the quantities", () => {
    const meant = (text: string): (Quantity | null)[] =>
      questionAbout(readQuantity(text)).choices.map((choice) => choice.quantity);
    expect(meant("31 mil")).toEqual([quantity(0.031, "in"), quantity(31, "mm")]);
    expect(meant("3 tenths")).toEqual([quantity(0.0003, "in"), quantity(0.3, "mm")]);
    expect(meant("32 micro")).toEqual([quantity(32, "µm"), quantity(32, "µin")]);
    expect(questionAbout(readQuantity("31 mil")).question).toBe(
      '"31 mil" can be read in two ways. Write "0.031 in" for thousandths of an inch or "31 mm" for millimetres.',
    );
  });

  it("offers only what it reads back to the same quantity", () => {
    for (const text of [
      "31",
      "Ra 31",
      "1,000 rev/min",
      "31 mil",
      "3 tenths",
      "32 µ",
      "0.0000001",
      "1,250 in",
    ]) {
      for (const choice of questionAbout(readQuantity(text)).choices) {
        expect(parseQuantity(choice.write)).toEqual(choice.quantity);
      }
    }
  });

  it("carries the choices on the error that it throws", () => {
    try {
      parseQuantity("31 mil");
      expect.unreachable();
    } catch (cause) {
      if (!(cause instanceof UnitError)) throw cause;
      expect(cause.reason).toBe("ambiguous");
      expect(cause.choices.map(({ write }) => write)).toEqual(["0.031 in", "31 mm"]);
    }
  });

  it("refuses another dimension and offers what was probably meant", () => {
    expect(readQuantity("0.25 mm", { unit: "mm/rev" })).toEqual({
      kind: "refused",
      reason: "mismatch",
      message:
        '"0.25 mm" is a length; expected a feed per revolution. If it is feed per revolution, write "0.25 mm/rev".',
      choices: [
        {
          write: "0.25 mm/rev",
          meaning: "0.25 mm/rev (0.009843 in/rev)",
          quantity: quantity(0.25, "mm/rev"),
        },
      ],
    });
    const offers = (text: string, dimension: Quantity["dimension"]): string[] => {
      const answer = readQuantity(text, { dimension });
      return answer.kind === "refused" ? answer.choices.map(({ write }) => write) : [answer.kind];
    };
    expect(offers("50 lb", "force")).toEqual(["50 lbf"]);
    expect(offers("5 m", "time")).toEqual(["5 min"]);
    expect(offers("0.1 mm/rev", "feed per tooth")).toEqual(["0.1 mm/tooth"]);
    expect(offers("200 mm/min", "feed per revolution")).toEqual(["200 mm/rev"]);
    expect(offers("5 rpm", "length")).toEqual([]);
    const angle = readQuantity("5 mm", { dimension: "angle" });
    expect(angle.kind === "refused" && angle.message).toBe(
      '"5 mm" is a length; expected an angle. Write a unit such as °.',
    );
  });

  it.each([
    ["", 'Nothing was given; expected a number and a unit, such as "0.8 µm".'],
    ["mm", '"mm" is not a quantity: expected a number and a unit, such as "0.8 µm".'],
    ["0.8-1.2 µm", '"0.8-1.2 µm" holds more than one number. Write one number and its unit.'],
    ["0.8 ± 0.1 µm", '"0.8 ± 0.1 µm" holds more than one number. Write one number and its unit.'],
    ["0.8 to 1.2 µm", '"0.8 to 1.2 µm" holds more than one number. Write one number and its unit.'],
    ["1 0 mm", '"1 0" is not a number. Write one such as "0.8", "0,8", "1 000" or "3/8".'],
    [
      "5 furlong",
      '"furlong" is not a unit known here. Write one such as mm, µm, in, µin, mm/rev, rev/min or m/min.',
    ],
    ["1e999 mm", '"1e999" is too long for a number.'],
  ])("refuses %j", (text, message) => {
    const answer = readQuantity(text);
    expect(answer.kind === "refused" && answer.message).toBe(message);
  });

  it("refuses a page of text quickly", () => {
    expect(readQuantity("1".repeat(100_000)).kind).toBe("refused");
    expect(readQuantity("1 ".repeat(100_000)).kind).toBe("refused");
  });

  it("reads back what formatQuantity shows, for every unit", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...unitNames),
        fc.integer({ min: -999_999, max: 999_999 }),
        fc.integer({ min: 0, max: 4 }),
        (unit, digits, decimals) => {
          const shown: Quantity = quantity(Number((digits / 10 ** decimals).toFixed(decimals)) + 0, unit);
          expect(parseQuantity(formatQuantity(shown), { unit })).toEqual(shown);
        },
      ),
      { seed: 34, numRuns: 500 },
    );
  });

  it("never throws, whatever was typed", () => {
    const pieces = fc.constantFrom(
      ..."0123456789.,'\" -+/eµmin°½×⁻",
      "rev",
      "mil",
      "Ra",
      "thou",
      "\u202f",
      "per",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 12 }), (typed) => {
        const answer = readQuantity(typed.join(""));
        if (answer.kind === "value") expect(Number.isFinite(answer.value.value)).toBe(true);
        else
          expect((answer.kind === "question" ? answer.question : answer.message).length).toBeGreaterThan(0);
      }),
      { seed: 35, numRuns: 5000 },
    );
  });
});
