import { describe, expect, it } from "vitest";
import { isUnit, parseUnit, readUnit, unitNames, UnitError } from "../../src/units/index.ts";
import { spellingsOf } from "../../src/units/unit-text.ts";

describe("readUnit", () => {
  it.each([
    ["µm", "µm"], // micro sign U+00B5
    ["\u03bcm", "µm"], // Greek mu U+03BC
    ["um", "µm"],
    ["UM", "µm"],
    ["microns", "µm"],
    ["uin", "µin"],
    ["\u03bcin", "µin"],
    ["µ in", "µin"],
    ["microinches", "µin"],
    ['"', "in"],
    ["″", "in"],
    ["inch", "in"],
    ["in.", "in"],
    ["MM", "mm"],
    ["thou", "thou"],
    ["mm/rev", "mm/rev"],
    ["mm / rev", "mm/rev"],
    ["mm per rev", "mm/rev"],
    ["mm/r", "mm/rev"],
    ["mm/U", "mm/rev"],
    ["mm/tr", "mm/rev"],
    ["ipr", "in/rev"],
    ["IPR", "in/rev"],
    ["in per revolution", "in/rev"],
    ["thou/rev", "thou/rev"],
    ["ipt", "in/tooth"],
    ["mm/z", "mm/tooth"],
    ["inches per tooth", "in/tooth"],
    ["ipm", "in/min"],
    ["inches per minute", "in/min"],
    ["mm/min", "mm/min"],
    ["rpm", "rev/min"],
    ["RPM", "rev/min"],
    ["r/min", "rev/min"],
    ["min⁻¹", "rev/min"],
    ["U/min", "rev/min"],
    ["sfm", "ft/min"],
    ["SFPM", "ft/min"],
    ["surface feet per minute", "ft/min"],
    ["M/MIN", "m/min"],
    ["cm3/min", "cm³/min"],
    ["cc/min", "cm³/min"],
    ["cu in/min", "in³/min"],
    ["in³/min", "in³/min"],
    ["l", "L"],
    ["Nm", "N·m"],
    ["N.m", "N·m"],
    ["N m", "N·m"],
    ["ft-lb", "lbf·ft"],
    ["ft·lbf", "lbf·ft"],
    ["MPA", "MPa"],
    ["mpa", "MPa"],
    ["KW", "kW"],
    ["nm", "nm"],
    ["deg", "°"],
    ["º", "°"],
    ["C", "°C"],
    ["℃", "°C"],
    ["percent", "%"],
    ["hr", "h"],
  ])("reads %j as %s", (text, unit) => {
    expect(parseUnit(text)).toBe(unit);
  });

  it("reads every canonical name as itself", () => {
    for (const unit of unitNames) {
      expect(isUnit(unit)).toBe(true);
      expect(parseUnit(unit)).toBe(unit);
    }
    expect(isUnit("toString")).toBe(false);
  });

  it("gives no spelling to two units", () => {
    const seen = new Map<string, string>();
    for (const unit of unitNames) {
      for (const spelling of spellingsOf(unit)) {
        expect(`${spelling}: ${seen.get(spelling) ?? unit}`).toBe(`${spelling}: ${unit}`);
        seen.set(spelling, unit);
        expect(parseUnit(spelling)).toBe(unit);
      }
    }
  });

  it("asks what mil, tenths and micro mean", () => {
    expect(readUnit("mil")).toEqual({
      kind: "question",
      question:
        '"mil" means different things in different shops. Write "in" for thousandths of an inch (1 mil is 0.001 in) or "mm" for millimetres.',
      choices: [
        { write: "in", meaning: "thousandths of an inch (1 mil is 0.001 in)", quantity: null },
        { write: "mm", meaning: "millimetres", quantity: null },
      ],
    });
    for (const doubtful of ["mils", "tenths", "micro", "µ", "u", "Mil"])
      expect(readUnit(doubtful).kind).toBe("question");
  });

  it.each(["k", "M", "mPa", "NM", "furlong", "", "mm/furlong", "constructor", "rev"])(
    "does not guess at %j",
    (text) => {
      expect(readUnit(text).kind).toBe("refused");
      expect(() => parseUnit(text)).toThrow(UnitError);
    },
  );

  it("names units that it knows where it does not know the given one", () => {
    expect(() => parseUnit("furlong")).toThrow(
      '"furlong" is not a unit known here. Write one such as mm, µm, in, µin, mm/rev, rev/min or m/min.',
    );
  });
});
