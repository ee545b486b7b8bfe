import { describe, expect, it } from "vitest";
import { chooseLayout, judge, layOut } from "../../../src/layout/index.ts";
import { quantities } from "./factors.ts";

describe("chooseLayout", () => {
  it("recommends the full factorial for three factors and 8 passes", () => {
    // Common practice: with all corners at hand, nothing is gained by a fraction.
    const choice = chooseLayout({ factors: quantities(3), stake: "which-matter", passes: 8 });
    expect(choice.recommended?.id).toBe("factorial");
  });

  it("gives the figures that judge gives on the same layout", () => {
    const factors = quantities(4);
    const choice = chooseLayout({ factors, stake: "which-matter", passes: 12, sigma: 0.5, effect: 1 });
    expect(choice.candidates.length).toBeGreaterThan(3);
    for (const candidate of choice.candidates) {
      const { runs } = layOut({ factors, layout: candidate.layout });
      expect(runs).toHaveLength(candidate.runs);
      const judged = judge(runs, factors, { model: "main", sigma: 0.5, effect: 1 });
      const widths = judged.terms.map(({ halfWidth }) => halfWidth);
      const { halfWidth, chance } = candidate.figures.mainEffects;
      if (widths.includes(null)) expect(halfWidth).toBeNull();
      else expect(halfWidth).toBeCloseTo(Math.max(...widths.map(Number)), 12);
      if (chance !== null)
        expect(chance).toBeCloseTo(Math.min(...judged.terms.map(({ power }) => Number(power))), 12);
    }
  });
});
