import { afterAll, describe, expect, test } from "vitest";
import { publishedComparisons, recomputedComparisons } from "./agreement.ts";
import type { Comparison } from "./agreement.ts";
import { notChecked } from "./not-checked.ts";
import { publishedComparisonGroups } from "./published-comparisons.ts";
import type { PublishedGroup } from "./published-group.ts";
import { publishedLayoutGroups } from "./published-layouts.ts";
import { publishedMixedGroups } from "./published-mixed.ts";
import { fitOf, workedExamples } from "./worked-example.ts";

// Figures recomputed by R: its own rounding on natural columns is about 1e-12 of a figure here, so 1e-9 can only be passed by agreement.
const relative = 1e-9;

interface Line {
  readonly source: string;
  readonly published: readonly Comparison[];
  readonly recomputed: readonly Comparison[];
}

const lines: Line[] = [];
const width = 78;

const groups: readonly PublishedGroup[] = [
  ...publishedComparisonGroups,
  ...publishedMixedGroups,
  ...publishedLayoutGroups,
];

afterAll(() => {
  const worst = (all: readonly Comparison[]): number => Math.max(0, ...all.map(({ off }) => off));
  const table = lines.map(({ source, published, recomputed }) => {
    const digits = -Math.log10(Math.max(worst(recomputed) * relative, 1e-16));
    const byR =
      recomputed.length === 0
        ? ""
        : `  ${String(recomputed.length).padStart(7)}   ${digits.toFixed(1).padStart(6)}`;
    return `${source.padEnd(width)} ${String(published.length).padStart(5)}   ${worst(published).toFixed(2).padStart(5)}${byR}`;
  });
  const all = lines.flatMap(({ published }) => published);
  process.stdout.write(
    [
      "",
      "Worked examples: figures as published (worst difference in half units of the last printed digit; 1 is the most allowed)",
      "and as recomputed by R (digits of the worst figure).",
      `${"".padEnd(width)} print   worst  recomp.   digits`,
      ...table,
      `${"all".padEnd(width)} ${String(all.length).padStart(5)}   ${worst(all).toFixed(2).padStart(5)}`,
      "",
      "Published figures at hand that are not held, and why:",
      ...notChecked.map(([source, figure, reason]) => `  ${source}: ${figure}: ${reason}.`),
      "",
    ].join("\n"),
  );
});

describe.each(workedExamples())("$file", (example) => {
  const published = example.analyses.flatMap((analysis) => publishedComparisons(example, analysis));
  const recomputed = example.analyses.flatMap((analysis, i) =>
    recomputedComparisons(example, analysis, example.recomputed[i], relative),
  );
  lines.push({ source: example.file, published, recomputed });

  test(`agrees with ${published.length} published figures to their printed digits`, () => {
    expect(published.filter(({ off }) => !(off <= 1))).toEqual([]);
  });

  test(`agrees with ${recomputed.length} figures recomputed by R to nine digits`, () => {
    expect(recomputed.length).toBeGreaterThan(0);
    expect(recomputed.filter(({ off }) => !(off <= 1))).toEqual([]);
  });

  for (const analysis of example.analyses) {
    const { active } = analysis.published;
    if (active === undefined) continue;
    test(`${analysis.name} finds the active effects that are published`, () => {
      expect(fitOf(example, analysis).unreplicated?.active).toEqual(active);
    });
  }
});

describe.each(groups)("$source", ({ source, figures }) => {
  lines.push({ source, published: figures, recomputed: [] });
  test(`agrees with ${figures.length} published figures to their printed digits`, () => {
    expect(figures.length).toBeGreaterThan(0);
    expect(figures.filter(({ off }) => !(off <= 1))).toEqual([]);
  });
});
