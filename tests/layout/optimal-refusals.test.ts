import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, coolant, edge, feed, speed } from "./factors.ts";

const plan = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "optimal", order: "as-listed", ...layout } });
const refusal = (factors: readonly Factor[], layout: Record<string, unknown>) => {
  try {
    plan(factors, layout);
  } catch (error) {
    return (error as Error).message;
  }
  return "nothing";
};
const named = (count: number) => coded(count).map((factor, index) => ({ ...factor, name: `x${index + 1}` }));
const hard = (factor: Factor): Factor => ({ ...factor, change: "hard" });

describe("whole plots are refused", () => {
  test("where no factor is hard to change", () => {
    expect(refusal([feed, speed], { runs: 8, wholePlots: 4 })).toBe(
      'layout.wholePlots: no factor is hard to change, so every run is set up afresh. Say "change": "hard" at a factor, or leave "wholePlots" out.',
    );
    expect(refusal([feed, speed], { runs: 8, varianceRatio: 2 })).toMatch(
      /^layout\.varianceRatio: no factor/,
    );
  });
  test("where there are fewer than the terms between them, with the number that works", () => {
    expect(refusal([hard(coolant), feed], { runs: 12, wholePlots: 2, terms: "main" })).toBe(
      "layout.wholePlots: 3 terms that stand between settings of coolant (the mean among them) can't be told by 2 set-ups. Take at least 3, better 7.",
    );
  });
  test("where there are more than runs", () => {
    expect(refusal([hard(edge), feed], { runs: 6, wholePlots: 7, terms: "main" })).toBe(
      "layout.wholePlots: 7 settings of edge can't be had with 6 runs. Take at most 6.",
    );
  });
  test("where they don't go round the blocks", () => {
    expect(refusal([hard(edge), feed], { runs: 12, wholePlots: 3, blocks: 4, terms: "main" })).toBe(
      "layout.wholePlots: 3 set-ups can't be dealt to 4 blocks, for a block begins with a setting of edge. Take at least 4.",
    );
  });
  test("where the variance ratio is no ratio", () => {
    expect(refusal([hard(edge), feed], { runs: 12, varianceRatio: -1 })).toMatch(
      /^layout\.varianceRatio: expected a number from 0/,
    );
  });
});

describe("what would not end is refused before it begins", () => {
  test("terms that take more columns than a search can hold", () => {
    expect(refusal(named(40), { runs: 2000, terms: "surface" })).toBe(
      'layout.terms: mean and terms take 861 columns, more than the 600 that a search can hold. Ask for "main", which takes 41, or list the terms that you need.',
    );
  });
  test("starts that would take too long, with the number that works", () => {
    const message = refusal(named(12), { runs: 150, terms: "surface", starts: 100_000 });
    expect(message).toMatch(
      /^layout\.starts: 100,000 starts with 150 runs and 91 terms would take too long\. At most [\d,]+ starts can be made\.$/,
    );
    const most = Number(/At most ([\d,]+)/.exec(message)?.[1]?.replaceAll(",", ""));
    expect(refusal(named(12), { runs: 150, terms: "surface", starts: most + 1 })).toMatch(/^layout\.starts/);
  });
  test("runs that are too many for one start", () => {
    const plots = {
      runs: 2000,
      wholePlots: 3,
      terms: [{ x1: 1 }, { x2: 1 }, { x1: 1, x2: 1 }, { x1: 2 }],
      starts: 1,
    };
    expect(refusal([hard({ ...named(1)[0] }), named(2)[1]], plots)).toMatch(
      /^layout\.runs: 2000 runs with 5 terms would take too long for even one start\. Take at most \d+ runs, or fewer terms\.$/,
    );
  });
});

describe("lesser terms", () => {
  test("by name stand for what they hold beyond the terms that matter", () => {
    const named4 = named(4);
    const products = named4.flatMap((one, i) =>
      named4.slice(i + 1).map((other) => ({ [one.name]: 1, [other.name]: 1 })),
    );
    const byName = plan(named4, { runs: 8, terms: "main", lesserTerms: "interactions" });
    expect(byName.runs).toEqual(plan(named4, { runs: 8, terms: "main", lesserTerms: products }).runs);
  });
});

describe("blocks", () => {
  test("keep runs cut earlier in the first block, and the new ones in those that follow", () => {
    const keep = [
      { feed: 0.08, speed: 800 },
      { feed: 0.24, speed: 1250 },
      { feed: 0.08, speed: 1250 },
    ];
    const { runs } = plan([feed, speed], { runs: 9, terms: "main", blocks: 3, keep });
    expect(runs.filter((run) => run.role === "given").every((run) => run.block === 1)).toBe(true);
    expect([1, 2, 3].map((block) => runs.filter((run) => run.block === block).length)).toEqual([3, 3, 3]);
  });
  test("hold whole plots whole", () => {
    const { runs } = plan([hard(edge), feed, speed], {
      runs: 16,
      wholePlots: 8,
      blocks: 2,
      terms: "interactions",
    });
    const blocks = new Map<number, Set<number>>();
    for (const run of runs) {
      const plot = run.wholePlot ?? 0;
      blocks.set(plot, (blocks.get(plot) ?? new Set()).add(run.block));
    }
    expect(blocks.size).toBe(8);
    for (const own of blocks.values()) expect(own.size).toBe(1);
  });
});

describe("each constraint can be written in the options", () => {
  const trial = {
    factors: [feed, { ...speed, low: 400, high: 1250 }],
    held: { depth: "1 mm" },
    cutter: { diameter: "80 mm", teeth: 1 },
    pass: { width: "50 mm" },
  };
  const surface = (rev: number) => (Math.PI * 80 * rev) / 1000;
  // Each with the plain formula that it stands for, which is also given as a function.
  test.each([
    {
      constraint: { limit: "removal rate", atMost: "9 cm³/min" },
      fits: (f: number, n: number) => f * n * 50e-3 <= 9,
    },
    {
      constraint: { limit: "surface speed", atMost: "250 m/min" },
      fits: (_: number, n: number) => surface(n) <= 250,
    },
    {
      constraint: { limit: "spindle speed", atLeast: "600 rev/min" },
      fits: (_: number, n: number) => n >= 600,
    },
    {
      constraint: { limit: "feed speed", atMost: "200 mm/min" },
      fits: (f: number, n: number) => f * n <= 200,
    },
    {
      constraint: { limit: "tool life", exponent: 0.25, constant: "600 m/min", atLeast: "25 min" },
      fits: (_: number, n: number) => (600 / surface(n)) ** 4 >= 25,
    },
    {
      constraint: { sum: { feed: 2000, speed: 0.5 }, atMost: 900 },
      fits: (f: number, n: number) => 2000 * f + 0.5 * n <= 900,
    },
    {
      constraint: { never: { feed: 0.24, speed: 1250 } },
      fits: (f: number, n: number) => !(f === 0.24 && n === 1250),
    },
  ])("and as a function: $constraint", ({ constraint, fits }) => {
    const layout = {
      kind: "optimal",
      order: "as-listed",
      runs: 6,
      terms: "interactions",
      criterion: "I",
      starts: 10,
    };
    const slack = 1 + 1e-8;
    const fitsNearly = (f: number, n: number) =>
      fits(f, n) || fits(f / slack, n / slack) || fits(f * slack, n * slack);
    const written = layOut({ ...trial, layout: { ...layout, constraints: [constraint] } });
    const asFunction = layOut(
      { ...trial, layout },
      {
        allow: [({ feed: f, speed: n }) => (fits(Number(f), Number(n)) ? null : "too much")],
      },
    );
    for (const { runs } of [written, asFunction]) {
      for (const { settings } of runs)
        expect(fitsNearly(Number(settings.feed), Number(settings.speed))).toBe(true);
    }
    // The constraint matters: without it some run goes beyond.
    const free = layOut({ ...trial, layout });
    expect(free.runs.every(({ settings }) => fits(Number(settings.feed), Number(settings.speed)))).toBe(
      false,
    );
  });
});
