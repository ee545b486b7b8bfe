import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  chooseLayout,
  judge,
  layOut,
  type Candidate,
  type LayoutQuestion,
  type Stake,
} from "../../../src/layout/index.ts";
import { category, quantities } from "./factors.ts";

const SEED = 20261125;
const everyStake: readonly Stake[] = ["which-matter", "how-they-combine", "how-curved", "best-setting"];

const question = fc
  .record({
    quantities: fc.integer({ min: 0, max: 5 }),
    categories: fc.integer({ min: 0, max: 2 }),
    stake: fc.constantFrom(...everyStake),
    passes: fc.integer({ min: 1, max: 64 }),
    hard: fc.boolean(),
    effect: fc.constantFrom(1, 2, 4),
  })
  .filter((drawn) => drawn.quantities + drawn.categories > 0)
  .map((drawn): LayoutQuestion => ({
    factors: [
      ...quantities(drawn.quantities),
      // A category that is hard to change makes whole plots.
      ...[category("insert", 3, drawn.hard ? "hard" : "easy"), category("coolant", 2)].slice(
        0,
        drawn.categories,
      ),
    ],
    stake: drawn.stake,
    passes: drawn.passes,
    sigma: 1,
    effect: drawn.effect,
  }));

function asked({ stake }: LayoutQuestion, { figures }: Candidate) {
  if (stake === "how-they-combine") return figures.products;
  return stake === "how-curved" ? figures.squares : figures.mainEffects;
}

/** Smaller is better, in everything that is asked; a layout found by search must be better by a tenth to count. */
function losses(from: LayoutQuestion, candidate: Candidate): readonly number[] {
  const { figures } = candidate;
  const width =
    from.stake === "best-setting"
      ? (figures.prediction?.halfWidthInSigma ?? Number.POSITIVE_INFINITY)
      : (asked(from, candidate).halfWidthInSigma ?? Number.POSITIVE_INFINITY);
  const bend = { each: 0, together: 1, no: 2 }[figures.bend];
  const leaning = figures.worstLeaning < 0.05 ? 0 : figures.worstLeaning;
  return [width, leaning, bend, candidate.runs, -figures.df, -figures.dfPureError];
}

describe("whatever the factors, the question and the passes", () => {
  it("a layout that fits is recommended, or a number of passes with which one is", () => {
    fc.assert(
      fc.property(question, (given) => {
        const choice = chooseLayout(given);
        const [first] = choice.candidates;
        for (const { runs } of choice.candidates) expect(runs).toBeLessThanOrEqual(given.passes);
        if (choice.recommended) {
          expect(choice.recommended.id).toBe(first?.id);
          expect(first?.answers).not.toBe("no");
          return;
        }
        expect(choice.instead.length).toBeGreaterThan(0);
        const { toAnswer } = choice.enough;
        if (toAnswer === null) {
          // No number of passes makes a curve of named levels, nor a product of one factor.
          expect(["how-curved", "how-they-combine"]).toContain(given.stake);
          return;
        }
        expect(toAnswer).toBeGreaterThan(given.passes);
        expect(chooseLayout({ ...given, passes: toAnswer }).recommended).not.toBeNull();
      }),
      { seed: SEED, numRuns: 8 },
    );
  }, 120_000);

  it("with the passes that are said to be enough, the answer is full and the effect is seen", () => {
    fc.assert(
      fc.property(question, (given) => {
        const { toAnswerFully, toSee } = chooseLayout(given).enough;
        if (toAnswerFully !== null && toAnswerFully <= 100) {
          expect(chooseLayout({ ...given, passes: toAnswerFully }).candidates[0]?.answers).toBe("yes");
        }
        if (toSee !== null && toSee <= 100) {
          const [first] = chooseLayout({ ...given, passes: toSee }).candidates;
          expect(first).toBeDefined();
          if (!first) return;
          if (given.stake === "best-setting")
            expect(first.figures.prediction?.halfWidth).toBeLessThanOrEqual(given.effect ?? 0);
          else expect(asked(given, first).chance).toBeGreaterThanOrEqual(0.8);
        }
      }),
      { seed: SEED, numRuns: 5 },
    );
  }, 120_000);

  it("what is recommended is beaten by no other candidate in everything that is asked", () => {
    fc.assert(
      fc.property(question, (given) => {
        const { candidates, recommended } = chooseLayout(given);
        const [first, ...others] = candidates;
        if (!recommended || !first) return;
        const own = losses(given, first);
        for (const other of others) {
          const theirs = losses(given, other);
          const [width = 0] = own;
          const margin = other.layout.kind === "optimal" ? 0.9 : 1 - 1e-9;
          const better = (theirs[0] ?? 0) < margin * width;
          const noWorse = theirs.every((loss, place) => loss <= (own[place] ?? 0));
          expect(better && noWorse, `${other.id} beats ${first.id}`).toBe(false);
        }
      }),
      { seed: SEED + 1, numRuns: 10 },
    );
  }, 120_000);
});

/** Seeded, not drawn: the larger the trial, the longer a choice takes. */
describe("factors that are hard to change, and many factors", () => {
  const cases: readonly (readonly [string, LayoutQuestion])[] = [
    ["9 factors, which matter", { factors: quantities(9), stake: "which-matter", passes: 24 }],
    ["6 factors, one hard, which matter", withHardEdge(5, "which-matter", 32)],
    ["12 factors, which matter", { factors: quantities(12), stake: "which-matter", passes: 20 }],
    ["11 factors, too few passes", { factors: quantities(11), stake: "which-matter", passes: 10 }],
    ["3 factors, one hard, how they combine", withHardEdge(2, "how-they-combine", 24)],
    ["4 factors, one hard, best setting", withHardEdge(3, "best-setting", 40)],
  ];

  function withHardEdge(count: number, stake: Stake, passes: number): LayoutQuestion {
    return {
      factors: [...quantities(count), category("edge", 2, "hard")],
      stake,
      passes,
      sigma: 1,
      effect: 2,
      varianceRatio: 2,
    };
  }

  it.each(cases)("%s: what is recommended is what lay-out and judge say of it", (_name, given) => {
    const { recommended, candidates, instead, enough } = chooseLayout(given);
    const [first] = candidates;
    if (!recommended || !first) {
      expect(enough.toAnswer).toBeGreaterThan(given.passes);
      expect(instead.length).toBeGreaterThan(0);
      return;
    }
    expect(first.id).toBe(recommended.id);
    const { runs } = layOut({ factors: given.factors, layout: first.layout });
    expect(runs).toHaveLength(first.runs);
    expect(first.runs).toBeLessThanOrEqual(given.passes);
    if (given.stake !== "which-matter") return;
    const { terms } = judge(runs, given.factors, {
      model: "main",
      sigma: 1,
      ...(given.varianceRatio === undefined ? {} : { varianceRatio: given.varianceRatio }),
    });
    const widths = terms.map(({ halfWidth }) => halfWidth);
    const { halfWidthInSigma } = first.figures.mainEffects;
    if (widths.includes(null)) expect(halfWidthInSigma).toBeNull();
    else expect(halfWidthInSigma).toBeCloseTo(Math.max(...widths.map(Number)), 9);
  });

  it("hard factors are set up as often as the layout says, and each set-up keeps its setting", () => {
    const { candidates, ...rest } = chooseLayout(withHardEdge(3, "which-matter", 32));
    expect(rest.recommended).not.toBeNull();
    for (const { layout, cost } of candidates) {
      const { runs } = layOut({ factors: withHardEdge(3, "which-matter", 32).factors, layout });
      const plots = new Map<number | undefined, Set<unknown>>();
      for (const { wholePlot, settings } of runs)
        plots.set(wholePlot, (plots.get(wholePlot) ?? new Set()).add(settings["edge"]));
      expect(plots.size).toBe(cost.setUps);
      for (const settings of plots.values()) expect(settings.size).toBe(1);
    }
  });
});
