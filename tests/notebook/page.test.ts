import { describe, expect, test } from "vitest";
import type { Entry } from "../../src/notebook/index.ts";
import { createPage } from "../../src/notebook/page.ts";
import { add, valueIn, type Quantity } from "../../src/units/index.ts";

/** A page with a clock that stands still, and what it told. */
function pageWith(answers: Record<string, string> = {}, now: () => number = () => 0) {
  const told: { entry: Entry; index: number }[] = [];
  const work = createPage(answers, (entry, index) => told.push({ entry, index }), now);
  return { ...work, told };
}

describe("questions", () => {
  test("take the default where nothing was answered", () => {
    const { page, entries } = pageWith();
    const limit = page.ask.quantity("Limit", { default: "0.8 µm" });
    expect(limit).toMatchObject({ value: 0.8, unit: "µm", dimension: "length", text: "0.8 µm" });
    expect(page.ask.number("Assurance", { default: 0.95 })).toBe(0.95);
    expect(page.ask.choice("Edge", { choices: ["fresh", "used"] })).toBe("fresh");
    expect(page.ask.yesNo("Both", { default: false })).toBe(false);
    expect(entries).toEqual([
      { kind: "ask", ask: "quantity", label: "Limit", refusal: "", answer: "0.8 µm", unit: "µm" },
      { kind: "ask", ask: "number", label: "Assurance", refusal: "", answer: "0.95" },
      { kind: "ask", ask: "choice", label: "Edge", refusal: "", answer: "fresh", choices: ["fresh", "used"] },
      { kind: "ask", ask: "yes-no", label: "Both", refusal: "", answer: "no" },
    ]);
  });

  test("take answers as they are typed, in another unit too, or without one in the default's", () => {
    const { page } = pageWith({ a: "31 uin", b: "1,2", c: "used", d: " Yes ", e: "0,9" });
    const typed = page.ask.quantity("a", { default: "0.8 µm" });
    expect(valueIn(typed, "µm")).toBe(0.7874); // 31 × 0.0254, exact by definition of the inch
    const bare = page.ask.quantity("b", { default: "0.8 µm" });
    expect(bare).toMatchObject({ value: 1.2, unit: "µm", text: "1,2 µm" });
    expect(page.ask.choice("c", { choices: ["fresh", "used"] })).toBe("used");
    expect(page.ask.yesNo("d", { default: false })).toBe(true);
    expect(page.ask.number("e", { default: 0.5, low: 0, high: 1 })).toBe(0.9);
  });

  test.each([
    [
      "5 rev/min",
      /can't be taken: "5 rev\/min" is a spindle speed; expected a length.*The default, 0\.8 µm, is used\.$/s,
    ],
    ["1,000", /can't be taken/],
    ["fine", /can't be taken/],
  ])("refuse the quantity %s in its place and use the default", (typed, refusal) => {
    const { page, entries } = pageWith({ Limit: typed });
    expect(page.ask.quantity("Limit", { default: "0.8 µm" }).value).toBe(0.8);
    expect(entries[0]).toMatchObject({ answer: "0.8 µm", refusal: expect.stringMatching(refusal) as string });
  });

  test("refuse a number outside its range, a choice that isn't one, a word that is neither yes nor no", () => {
    const { page, entries } = pageWith({ n: "2", c: "blunt", y: "perhaps" });
    expect(page.ask.number("n", { default: 0.95, low: 0.5, high: 1 })).toBe(0.95);
    expect(page.ask.choice("c", { choices: ["fresh", "used"], default: "used" })).toBe("used");
    expect(page.ask.yesNo("y", { default: true })).toBe(true);
    expect(entries.map((entry) => entry.kind === "ask" && entry.refusal)).toEqual([
      '"2" can\'t be taken: expected a number from 0.5 to 1. The default, 0.95, is used.',
      '"blunt" can\'t be taken: expected one of fresh, used. The default, used, is used.',
      '"perhaps" can\'t be taken: expected yes or no. The default, yes, is used.',
    ]);
  });

  test("an answer named as an object's own member is no answer", () => {
    const { page, entries } = pageWith({});
    page.ask.number("constructor", { default: 1 });
    expect(entries[0]).toMatchObject({ answer: "1", refusal: "" });
  });

  test("asked twice, without a label, or with a default that can't be read, are the notebook's fault", () => {
    const { page } = pageWith();
    page.ask.number("n", { default: 1 });
    expect(() => page.ask.number("n", { default: 1 })).toThrow(
      'page.ask: "n" is asked twice on this page. Answers are kept by label; give each question its own.',
    );
    expect(() => page.ask.number(" ", { default: 1 })).toThrow("a question needs a label");
    expect(() => page.ask.quantity("q", { default: "fine" })).toThrow(
      'page.ask.quantity("q"): the default "fine" can\'t be read.',
    );
    expect(() => page.ask.number("m", { default: 3, high: 2 })).toThrow("expected a number of at most 2.");
  });
});

test("the default's unit tells the compiler what is asked for", () => {
  const { page } = pageWith();
  const limit: Quantity<"length"> = page.ask.quantity("Limit", { default: "0.8 µm" });
  const speed: Quantity<"spindle speed"> = page.ask.quantity("Speed", { default: "1200 rev/min" });
  // @ts-expect-error a length is no spindle speed
  expect(() => add(limit, speed)).toThrow();
});

describe("progress", () => {
  test("moves one bar in its place, tells no more often than can be seen, and always the end", () => {
    let clock = 0;
    const { page, entries, told } = pageWith({}, () => clock);
    page.prose("before");
    for (let done = 0; done <= 1000; done++) {
      clock += 1;
      page.progress("Fits", done, 1000);
    }
    page.prose("after");
    expect(entries.map((entry) => entry.kind)).toEqual(["prose", "progress", "prose"]);
    expect(entries[1]).toEqual({ kind: "progress", label: "Fits", done: 1000, of: 1000 });
    const bars = told.filter(({ entry }) => entry.kind === "progress");
    expect(bars.length).toBeLessThan(30); // 1000 ms, one in 40, and the ends
    expect(bars.every(({ index }) => index === 1)).toBe(true);
    expect(bars.at(-1)?.entry).toMatchObject({ done: 1000 });
  });

  test("refuses what is no count", () => {
    expect(() => pageWith().page.progress("Fits", Number.NaN, 10)).toThrow("expected how many are done");
    expect(() => pageWith().page.progress("Fits", 1, 0)).toThrow("expected how many are done");
  });
});

describe("a page", () => {
  test("takes a figure's own title where no caption is given", () => {
    const { page, entries } = pageWith();
    const figure = {
      kind: "k",
      svg: "<svg></svg>",
      title: "Ra",
      description: "d",
      table: { columns: [], rows: [] },
    };
    page.figure(figure);
    page.figure(figure, { caption: "other" });
    expect(entries.map((entry) => entry.kind === "figure" && entry.caption)).toEqual(["Ra", "other"]);
  });

  test("can't be written on after its notebook has ended", () => {
    const { page, close } = pageWith();
    close();
    expect(() => page.prose("late")).toThrow("put an await before what it started");
  });

  test("refuses prose that is no text", () => {
    expect(() => pageWith().page.prose(3 as unknown as string)).toThrow("page.prose takes text, got number.");
  });
});
