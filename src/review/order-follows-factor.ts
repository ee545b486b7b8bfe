import type { Settings } from "../trial/index.ts";
import { settingsSeen, type Check, type CutRun, type ReviewContext, type ReviewedFactor } from "./context.ts";
import { intervalInflation } from "./inflation.ts";
import { mainEffectColumns } from "./main-effect-columns.ts";
import { usualSettings } from "./separating-runs.ts";
import { withinLimits } from "./within-limits.ts";

/** Twice the width: half of what the trial could know about the factor is spent on telling it from a steady drift. */
const drowned = 2;

/** The settings of a factor followed the cutting order, so that wear or warm-up moves with it. */
export const orderFollowsFactor: Check = (context) => {
  const { moved, runs } = context;
  if (runs.length < 3) return [];
  return moved.flatMap((factor) => {
    const inflation = inflationByOrder(factor, moved, runs);
    if (inflation < drowned) return [];
    const addRuns = runsAgainstOrder(factor, context);
    return [
      {
        kind: "order-follows-factor",
        weight: "caution" as const,
        title: `${factor.name} was cut in ${orderWords(factor, runs)}: wear and warm-up moved with it, so a drift can't be told from its effect.`,
        evidence: `${evidenceFor(factor, runs)} ${
          Number.isFinite(inflation)
            ? `Allowing for a steady drift makes the interval of its effect ${inflation.toFixed(1)} times as wide.`
            : "Allowing for a steady drift leaves its effect unknown."
        }`,
        mend:
          addRuns.length > 0
            ? `Cut ${addRuns.length === 1 ? "one more pass" : `${addRuns.length} more passes`} now, going back to ${addRuns
                .map((settings) => `${factor.name} ${context.text(factor.name, settings[factor.name])}`)
                .join(", then ")}; next time cut in random or drift-proof order.`
            : "Cut the next trial in random or drift-proof order.",
        runs: [],
        addRuns,
      },
    ];
  });
};

/**
 * How many times as wide the interval of a factor's effect becomes when a steady drift is allowed for, the other factors being in the model
 * either way: a last pass that goes back to a low setting tells nothing of drift when everything else changed in it too.
 */
function inflationByOrder(
  factor: ReviewedFactor,
  moved: readonly ReviewedFactor[],
  runs: readonly CutRun[],
): number {
  const order = Float64Array.from(runs, (_, index) => index + 1);
  const blocks = mainEffectColumns(moved, runs);
  const others = blocks.filter((block) => block.factor !== factor).flatMap(({ columns }) => columns);
  const own = blocks.filter((block) => block.factor === factor).flatMap(({ columns }) => columns);
  const ratios = own.map((column) => {
    const without = intervalInflation(column, others);
    return Number.isFinite(without) ? intervalInflation(column, [...others, order]) / without : 1;
  });
  return Math.max(...ratios);
}

function steps(factor: ReviewedFactor, runs: readonly CutRun[]): { up: number; down: number; level: number } {
  const count = { up: 0, down: 0, level: 0 };
  for (let index = 1; index < runs.length; index += 1) {
    const change = Number(runs[index].settings[factor.name]) - Number(runs[index - 1].settings[factor.name]);
    count[change > 0 ? "up" : change < 0 ? "down" : "level"] += 1;
  }
  return count;
}

/** A factor that stayed as it was more often than it moved was cut in groups. */
function inGroups(factor: ReviewedFactor, runs: readonly CutRun[]): boolean {
  return factor.kind === "category" || steps(factor, runs).level > runs.length / 2;
}

function orderWords(factor: ReviewedFactor, runs: readonly CutRun[]): string {
  if (inGroups(factor, runs)) return "groups one after the other";
  const { up, down } = steps(factor, runs);
  return up >= down ? "rising order" : "falling order";
}

function evidenceFor(factor: ReviewedFactor, runs: readonly CutRun[]): string {
  if (inGroups(factor, runs)) {
    const changes = runs.filter(
      ({ settings }, index) => index > 0 && settings[factor.name] !== runs[index - 1].settings[factor.name],
    ).length;
    return `It changed only ${changes === 1 ? "once" : `${changes} times`} in ${runs.length} runs.`;
  }
  const { up, down, level } = steps(factor, runs);
  const [most, rest] = up >= down ? [`rose ${up}`, `fell ${down}`] : [`fell ${down}`, `rose ${up}`];
  return `From run to run it ${most} times and ${rest} times${level > 0 ? ` (${level} times it stayed)` : ""}.`;
}

/** The fewest runs at settings already cut, appended at the end, that bring the widening below `drowned`; none where six don't do it. */
function runsAgainstOrder(
  factor: ReviewedFactor,
  { runs, moved, trial }: ReviewContext,
): readonly Settings[] {
  const allowed = withinLimits(trial);
  const candidates = settingsSeen(runs, factor.name)
    .map((setting): Settings => ({ ...usualSettings(moved, runs), [factor.name]: setting }))
    .filter(allowed);
  const added: Settings[] = [];
  let extended = runs;
  while (added.length < 6 && candidates.length > 0) {
    const tried = candidates.map((settings) => {
      const more = [...extended, { run: extended.length + 1, block: 1, role: "added", settings }];
      return { settings, more, inflation: inflationByOrder(factor, moved, more) };
    });
    const best = tried.reduce((least, next) => (next.inflation < least.inflation ? next : least));
    added.push(best.settings);
    extended = best.more;
    if (best.inflation < drowned) return added;
  }
  return [];
}
