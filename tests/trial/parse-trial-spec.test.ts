import { describe, expect, it } from "vitest";
import { parseTrialSpec, parseTrialText, TrialError } from "../../src/trial/index.ts";
import { exampleSpec, frozen } from "./example-spec.ts";

type Json = Record<string, unknown>;

/** The example with some keys of one of its parts changed, or taken away where the value is undefined. */
function changed(path: string, patch: Json): unknown {
  const copy = structuredClone(exampleSpec) as unknown as Json;
  const part = path.split(".").reduce((value, key) => (key === "" ? value : (value[key] as Json)), copy);
  Object.entries(patch).forEach(([key, value]) =>
    value === undefined ? delete part[key] : (part[key] = value),
  );
  return copy;
}

function refusal(json: unknown): string {
  try {
    parseTrialSpec(json);
  } catch (error) {
    if (error instanceof TrialError) return error.message;
    throw error;
  }
  return "accepted";
}

describe("parseTrialSpec", () => {
  it("fills in the defaults, makes units canonical and leaves what it was given as it was", () => {
    const spec = parseTrialSpec(frozen(structuredClone(exampleSpec)));
    expect(spec.factors[1]).toEqual({
      name: "speed",
      kind: "quantity",
      unit: "m/min",
      low: 200,
      high: 300,
      scale: "linear",
      change: "easy",
    });
    expect(parseTrialSpec(changed("responses.0", { unit: "um" })).responses[0].unit).toBe("µm");
    expect(spec.cutter?.diameter).toBe("80 mm");
  });

  it("needs no more than factors and a layout", () => {
    const { factors, layout } = exampleSpec;
    expect(parseTrialSpec({ factors, layout })).toMatchObject({
      format: "trycut-trial/1",
      title: "Untitled trial",
      dataKind: "measured",
      display: "metric",
      responses: [],
      held: {},
    });
  });

  it("keeps the options of the layout for the layout to check", () => {
    expect(parseTrialSpec(changed("layout", { anything: 3 })).layout).toEqual({
      ...exampleSpec.layout,
      anything: 3,
    });
  });

  it("takes its own result again without a change", () => {
    const spec = parseTrialSpec(exampleSpec);
    expect(parseTrialSpec(structuredClone(spec))).toEqual(spec);
  });

  it.each([
    [
      "an unknown key, with the nearest known one",
      changed("responses.0", { limt: 3 }),
      'trial.json, responses[0].limt: got the unknown key "limt"; expected one of name, unit, aim, limit. Did you mean "limit"?',
    ],
    [
      "a key of a quantity in a category",
      changed("factors.2", { low: 3 }),
      'trial.json, factors[2].low: got the unknown key "low"; expected one of kind, name, levels, change. Remove it; words of your own belong under held.',
    ],
    [
      "a missing part",
      changed("", { layout: undefined }),
      'trial.json, layout is missing; expected a layout with its kind. Write { "kind": "sweep" }.',
    ],
    [
      "an unknown unit",
      changed("factors.0", { unit: "mm/rve" }),
      'trial.json, factors[0].unit: got "mm/rve"; expected a unit that Trycut knows. Did you mean "mm/rev"?',
    ],
    [
      "a quantity of another dimension",
      changed("cutter", { diameter: "80 mm/rev" }),
      'trial.json, cutter.diameter: got "80 mm/rev"; expected a length as text with its unit, such as "80 mm". "80 mm/rev" is a feed per revolution; expected a length. If it is length, write "80 mm".',
    ],
    [
      "a quantity without a unit",
      changed("machine", { maxSpeed: 6000 }),
      'trial.json, machine.maxSpeed: got 6000; expected a spindle speed as text with its unit, such as "6000 rev/min". Write number and unit in quotes.',
    ],
    [
      "a length below zero",
      changed("pass", { width: "-3 mm" }),
      'trial.json, pass.width: got "-3 mm"; expected a length as text with its unit, such as "60 mm", above zero. Give the size itself.',
    ],
    [
      "text for a number",
      changed("factors.1", { low: "200" }),
      'trial.json, factors[1].low: got "200"; expected the lowest setting, a number. Write it without quotes, such as 0.08; the unit stands in "unit".',
    ],
    [
      "low above high",
      changed("factors.1", { low: 400 }),
      'trial.json, factors[1].low: got 400; expected a number below high (300 m/min). Swap them: "low": 300, "high": 400.',
    ],
    [
      "low equal to high",
      changed("factors.1", { low: 300 }),
      "trial.json, factors[1].low: got 300; expected a number below high (300 m/min). A factor that stays still belongs under held.",
    ],
    [
      "zero on a log scale",
      changed("factors.1", { low: 0, scale: "log" }),
      'trial.json, factors[1].low: got 0; expected more than 0 m/min on a log scale. Raise it, or write "scale": "linear".',
    ],
    [
      "a level outside the range",
      changed("factors.0", { levels: [0.08, 0.3] }),
      "trial.json, factors[0].levels[1]: got 0.3; expected a level from 0.08 to 0.24 mm/rev. Change the level, or widen low and high.",
    ],
    [
      "a level that the machine can't set",
      changed("factors.0", { levels: [0.08, 0.155] }),
      "trial.json, factors[0].levels[1]: got 0.155; expected a level that the machine can set, in steps of 0.01 mm/rev. The nearest are 0.15 or 0.16.",
    ],
    [
      "an increment wider than the range",
      changed("factors.1", { increment: 200 }),
      "trial.json, factors[1].increment: got 200; expected a step no wider than low to high (100 m/min). Check its unit, or leave it out.",
    ],
    [
      "levels twice or falling",
      changed("factors.0", { levels: [0.16, 0.08, 0.16] }),
      "trial.json, factors[0].levels: got [0.16,0.08,0.16]; expected rising levels, each once. Write [0.08, 0.16]; replicates belong to the layout.",
    ],
    [
      "a category with one level",
      changed("factors.2", { levels: ["fresh"] }),
      'trial.json, factors[2].levels: got ["fresh"]; expected two levels or more. Add the level to compare with; what stays still belongs under held.',
    ],
    [
      "levels that differ in capitals only",
      changed("factors.2", { levels: ["fresh", "Fresh"] }),
      'trial.json, factors[2].levels[1]: got "Fresh"; expected each level once. "fresh" stands before it: rename or remove one.',
    ],
    [
      "a name twice, among responses too",
      changed("responses.0", { name: "Feed" }),
      'trial.json, responses[0].name: got "Feed"; expected a name that no other factor or response has. factors[0].name is "feed" already: rename one of them.',
    ],
    [
      "a name that can't head a column",
      changed("factors.0", { name: "feed [mm]" }),
      'trial.json, factors[0].name: got "feed [mm]"; expected a name that can be a column header. Leave [ out: it has its own meaning in headers and models. The unit stands in "unit".',
    ],
    [
      "a name that a spreadsheet runs",
      changed("factors.0", { name: "-feed" }),
      'trial.json, factors[0].name: got "-feed"; expected a name that a spreadsheet does not run as a formula. Begin with a letter, not with -.',
    ],
    [
      "the name of a column of the files",
      changed("factors.0", { name: "Run" }),
      'trial.json, factors[0].name: got "Run"; expected a name of its own. The files of a trial have a column "run" already; add a word to the name.',
    ],
    [
      "a name that objects have of themselves",
      changed("factors.0", { name: "constructor" }),
      'trial.json, factors[0].name: got "constructor"; expected a name of its own. The name is taken by the language of the tool; add a word to it.',
    ],
    [
      "a kind that is none",
      changed("factors.0", { kind: "quantty" }),
      'trial.json, factors[0].kind: got "quantty"; expected a factor of kind "quantity" or "category". Write { "name": "feed", "kind": "quantity", … }.',
    ],
    [
      "no factors",
      changed("", { factors: [], today: undefined }),
      "trial.json, factors: got []; expected at least one factor. Add what the trial varies, such as feed.",
    ],
    [
      "a held quantity with a slip in its unit",
      changed("held", { depth: "0.1 mmm" }),
      'trial.json, held.depth: got "0.1 mmm"; expected a quantity with a unit that Trycut knows, or words. Did you mean mm?',
    ],
    [
      "a held number without a unit",
      changed("held", { depth: "0.1" }),
      'trial.json, held.depth: got "0.1"; expected a quantity with a unit that Trycut knows, or words. Write its unit, such as "0.1 mm"; for a count, what is counted, such as "0.1 passes".',
    ],
    [
      "a factor that is held as well",
      changed("held", { feed: "0.1 mm/rev" }),
      'trial.json, held.feed: got "0.1 mm/rev"; expected what stays still. feed is a factor, and varies: remove one of the two.',
    ],
    [
      "today's setting of no factor",
      changed("today", { fed: 0.1 }),
      'trial.json, today.fed: got 0.1; expected the name of a factor: feed, speed, edge. Did you mean "feed"?',
    ],
    [
      "today's setting in another dimension",
      changed("today", { feed: "3 mm" }),
      'trial.json, today.feed: got "3 mm"; expected a feed per revolution such as "0.08 mm/rev". "3 mm" is a length; expected a feed per revolution. If it is feed per revolution, write "3 mm/rev".',
    ],
    [
      "a target without its value",
      changed("responses.1", { aim: "target" }),
      'trial.json, responses[1].limit is missing; expected the target of Rz in µm. With "aim": "target" the limit is the target.',
    ],
    [
      "another format",
      changed("", { format: "trycut-trial/2" }),
      'trial.json, format: got "trycut-trial/2"; expected "trycut-trial/1". This version reads no other format.',
    ],
    [
      "what is no object",
      [1],
      'trial.json: got [1]; expected one object in braces. Write { "title": "…", "factors": [ … ], … }.',
    ],
  ])("refuses %s", (_, json, message) => {
    expect(refusal(json)).toBe(message);
  });

  it("tells everything that is wrong with the shape at once, one line each", () => {
    const message = refusal({ ...exampleSpec, dataKind: "real", cutter: { teeth: 1.5 }, layuot: {} });
    expect(message.split("\n").map((line) => line.split(":")[0])).toEqual([
      "trial.json, dataKind",
      "trial.json, cutter.teeth",
      "trial.json, layuot",
    ]);
  });
});

describe("parseTrialText", () => {
  it("takes a byte order mark", () => {
    expect(parseTrialText(`\ufeff${JSON.stringify(exampleSpec)}`)).toEqual(parseTrialSpec(exampleSpec));
  });

  it("names line and column of a slip in the JSON", () => {
    expect(() => parseTrialText('{\n "title": "a",\n}', "seal/trial.json")).toThrow(
      'seal/trial.json, line 3, column 1: got "}"; expected valid JSON.',
    );
    expect(() => parseTrialText('{\n "title": "a"')).toThrow("line 2, column 14: got the end of the text");
  });
});
