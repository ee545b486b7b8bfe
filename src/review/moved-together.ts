import { listed } from "../units/index.ts";
import { leastSquares } from "../numerics/index.ts";
import type { Settings } from "../trial/index.ts";
import type { Check, ReviewContext, ReviewedFactor } from "./context.ts";
import { mainEffectColumns } from "./main-effect-columns.ts";
import { runsInWords } from "./words.ts";
import { separatingRuns, usualSettings } from "./separating-runs.ts";
import { withinLimits } from "./within-limits.ts";

/** Factors that moved together in the same runs, so that no analysis of these runs can tell their effects apart. A fact of the plan: no reading can raise it by chance. */
export const movedTogether: Check = (context) => {
  const { moved, runs, trial } = context;
  if (moved.length < 2 || runs.length === 0) return [];
  const sets = inseparableFactors(context);
  if (sets.length === 0) return [];
  const addRuns = separatingRuns(moved, runs, { allowed: withinLimits(trial) });
  return sets.map((factors) => {
    const names = listed(factors.map(({ name }) => name));
    return {
      kind: "moved-together",
      weight: "caution",
      title: `${names} moved together: these runs can't tell which of them did it.`,
      evidence: evidenceFor(factors, context),
      mend:
        addRuns.length === 0
          ? "No run at settings cut so far, within the stated limits, separates them: plan one with only one of them changed."
          : `Cut ${addRuns.length === 1 ? "one more pass" : `${addRuns.length} more passes`} with only one thing changed: ${addRuns
              .map((settings) => moved.map((factor) => describe(factor, settings, context)).join(", "))
              .join("; ")}.`,
      runs: runsThatDiffer(factors, context),
      addRuns,
    };
  });
};

/** Sets of factors whose main effects are tied by the runs: unions of the ties that the rank decision found. */
function inseparableFactors({ moved, runs }: ReviewContext): readonly (readonly ReviewedFactor[])[] {
  const blocks = mainEffectColumns(moved, runs);
  const owners = blocks.flatMap(({ factor, columns }) => columns.map(() => factor));
  const columns = [
    { high: new Float64Array(runs.length).fill(1) },
    ...blocks.flatMap((block) => block.columns.map((high) => ({ high }))),
  ];
  const { dropped } = leastSquares(columns, new Float64Array(runs.length));
  let sets: Set<ReviewedFactor>[] = [];
  for (const { column, on } of dropped) {
    const tied = new Set(
      [column, ...on.map((part) => part.column)].filter((c) => c > 0).map((c) => owners[c - 1]),
    );
    const touching = sets.filter((set) => [...tied].some((factor) => set.has(factor)));
    sets = [
      ...sets.filter((set) => !touching.includes(set)),
      new Set([...touching.flatMap((set) => [...set]), ...tied]),
    ];
  }
  return sets.map((set) => moved.filter((factor) => set.has(factor)));
}

function describe(factor: ReviewedFactor, settings: Settings, { text }: ReviewContext): string {
  return `${factor.name} ${text(factor.name, settings[factor.name])}`;
}

function differing(factor: ReviewedFactor, { moved, runs }: ReviewContext): readonly number[] {
  const usual = usualSettings(moved, runs);
  return runs.filter(({ settings }) => settings[factor.name] !== usual[factor.name]).map(({ run }) => run);
}

function runsThatDiffer(factors: readonly ReviewedFactor[], context: ReviewContext): readonly number[] {
  return [...new Set(factors.flatMap((factor) => differing(factor, context)))].sort((a, b) => a - b);
}

function evidenceFor(factors: readonly ReviewedFactor[], context: ReviewContext): string {
  const { runs, moved } = context;
  const usual = usualSettings(moved, runs);
  const sets = factors.map((factor) => differing(factor, context).join(","));
  if (sets.every((set) => set === sets[0])) {
    const changed = differing(factors[0], context);
    const first = runs.find(({ run }) => run === changed[0]);
    const steps = factors.map(
      (factor) =>
        `${factor.name} from ${context.text(factor.name, usual[factor.name])} to ${context.text(
          factor.name,
          first?.settings[factor.name] ?? usual[factor.name],
        )}`,
    );
    return `${listed(steps)}, all at once and only in ${runsInWords(changed)}; in the other ${runs.length - changed.length} runs all stayed as they were.`;
  }
  return `Over all ${runs.length} runs the settings of ${listed(factors.map(({ name }) => name))} follow from one another exactly.`;
}
