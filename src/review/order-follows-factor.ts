import type { Setting, Settings } from "../trial/index.ts";
import { listed } from "../units/index.ts";
import {
  sameSettings,
  settingsSeen,
  type Check,
  type CutRun,
  type ReviewContext,
  type ReviewedFactor,
} from "./context.ts";
import { intervalInflation } from "./inflation.ts";
import { mainEffectColumns } from "./main-effect-columns.ts";
import type { Remark } from "./remark.ts";
import { usualSettings } from "./separating-runs.ts";
import { withinLimits } from "./within-limits.ts";

/** Twice the width: half of what the trial could know about the factor is spent on telling it from a steady drift. */
const drowned = 2;

/**
 * The settings of a factor followed the cutting order, so that wear or warm-up moves with it. Factors that follow it only between them, as in
 * runs listed by rote, are named in one remark. The lines of a plain table are taken to stand in cutting order, and the remark says so.
 * The readings play no part in it; of 10,000 shuffled orders of two factors none of 16 runs raises it, and 4.0 % of those of 8 runs do.
 */
export const orderFollowsFactor: Check = (context) => {
  const { moved, runs } = context;
  if (runs.length < 3) return [];
  const followers = moved
    .map((factor) => ({ factor, inflation: inflationByOrder(factor, moved, runs) }))
    .filter(({ inflation }) => inflation >= drowned);
  const byItself = ({ factor }: Follower): boolean => inflationByOrder(factor, [factor], runs) >= drowned;
  if (followers.length > 1 && !followers.every(byItself)) return [betweenThem(followers, context)];
  return followers.map((follower) => alone(follower, context));
};

interface Follower {
  readonly factor: ReviewedFactor;
  /** How many times as wide the interval of its effect becomes when a steady drift is allowed for. */
  readonly inflation: number;
}

function alone({ factor, inflation }: Follower, context: ReviewContext): Remark {
  const { runs } = context;
  const addRuns = runsAgainstOrder([factor], context);
  const back = addRuns.map(
    (settings) => `${factor.name} ${context.text(factor.name, settings[factor.name])}`,
  );
  return {
    kind: "order-follows-factor",
    weight: "caution",
    title: `${factor.name} was cut in ${orderWords(factor, runs)}${ifListedAsCut(context)}: wear and warm-up moved with it, so a drift can't be told from its effect.`,
    evidence: `${evidenceFor(factor, runs)} ${
      Number.isFinite(inflation)
        ? `Allowing for a steady drift makes the interval of its effect ${inflation.toFixed(1)} times as wide.`
        : "Allowing for a steady drift leaves its effect unknown."
    }`,
    mend: mendBy(addRuns.length, `going back to ${back.join(", then ")}`),
    runs: [],
    addRuns,
  };
}

function betweenThem(followers: readonly Follower[], context: ReviewContext): Remark {
  const names = listed(followers.map(({ factor }) => factor.name));
  const addRuns = runsAgainstOrder(
    followers.map(({ factor }) => factor),
    context,
  );
  const settings = addRuns.map((run) =>
    context.moved.map(({ name }) => `${name} ${context.text(name, run[name])}`).join(", "),
  );
  const widest = Math.max(...followers.map(({ inflation }) => inflation));
  return {
    kind: "order-follows-factor",
    weight: "caution",
    title: `${names} between them followed the cutting order${ifListedAsCut(context)}: wear and warm-up moved with them, so a drift can't be told from their effects.`,
    evidence: Number.isFinite(widest)
      ? `Allowing for a steady drift makes the intervals of their effects up to ${widest.toFixed(1)} times as wide.`
      : "The run number is a sum of their settings: allowing for a steady drift leaves their effects unknown.",
    mend: mendBy(addRuns.length, `at ${settings.join("; then ")}`),
    runs: [],
    addRuns,
  };
}

/** A table says nothing of when its lines were cut. */
function ifListedAsCut({ trial }: ReviewContext): string {
  return trial ? "" : ", if the lines stand in cutting order";
}

function mendBy(count: number, where: string): string {
  if (count === 0) return "Cut the next trial in random or drift-proof order.";
  return `Cut ${count === 1 ? "one more pass" : `${count} more passes`} now, ${where}; next time cut in random or drift-proof order.`;
}

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

/**
 * The fewest runs at settings already cut, appended at the end, that bring the widening of each of the factors below `drowned`; none where six
 * don't do it. For one factor the others stay at their usual settings; for several whole runs are cut again.
 */
function runsAgainstOrder(
  factors: readonly ReviewedFactor[],
  { runs, moved, trial }: ReviewContext,
): readonly Settings[] {
  if (runs.length > outweighed) return [];
  const usual = usualSettings(moved, runs);
  const settings =
    factors.length === 1
      ? endsOf(settingsSeen(runs, factors[0].name)).map((setting): Settings => ({
          ...usual,
          [factors[0].name]: setting,
        }))
      : differentSettings(runs);
  const candidates = settings.filter(withinLimits(trial));
  const added: Settings[] = [];
  let extended = runs;
  while (added.length < 6 && candidates.length > 0) {
    const tried = candidates.map((settings) => {
      const more = [...extended, { run: extended.length + 1, block: 1, role: "added", settings }];
      const widening = factors.map((factor) => inflationByOrder(factor, moved, more));
      return { settings, more, inflation: Math.max(...widening) };
    });
    const best = tried.reduce((least, next) => (next.inflation < least.inflation ? next : least));
    added.push(best.settings);
    extended = best.more;
    if (best.inflation < drowned) return added;
  }
  return [];
}

/**
 * Six passes outweigh an order that was followed all the way in up to 249 runs, one followed in part in somewhat more. In a longer table they are not looked for: it
 * would take minutes.
 */
const outweighed = 1000;
/** At most this many settings are tried for a run to add: more would take seconds and find little better. */
const triedAtMost = 64;

/** The settings nearest to both ends: those between outweigh an order least. */
function endsOf(seen: readonly Setting[]): readonly Setting[] {
  return seen.length <= triedAtMost
    ? seen
    : [...seen.slice(0, triedAtMost / 2), ...seen.slice(-triedAtMost / 2)];
}

function differentSettings(runs: readonly CutRun[]): readonly Settings[] {
  const different: Settings[] = [];
  for (const { settings } of runs) {
    if (different.length === triedAtMost) break;
    if (!different.some((one) => sameSettings(one, settings))) different.push(settings);
  }
  return different;
}
