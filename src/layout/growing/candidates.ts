import type { Term } from "../../model/index.ts";
import type { Factor, Run, Setting, Settings } from "../../trial/index.ts";
import { LimitError } from "../error.ts";
import { combinations, sameSetting, settable, settingsKey, spacedLevels, spacingOf } from "../levels.ts";
import { checkLimits } from "../limits/check-limits.ts";
import { plannedLevels } from "./cut.ts";
import type { Cut } from "./growth.ts";

/** Above this many combinations only runs with one thing changed are looked at. */
const MOST_COMBINATIONS = 4096;

/** A run that might be cut, and in how many factors it differs from the commonest setting. */
export interface Candidate {
  readonly settings: Settings;
  readonly changes: number;
}

/**
 * Runs that might be cut: every combination of settings cut so far (one change at a time where they are too many), with
 * further levels between where a term bends more than the levels cut can show, within the stated limits of a single run.
 */
export function candidateRuns(cut: Cut, terms: readonly Term[]): readonly Candidate[] {
  const usual = usualSettings(cut);
  const levels = cut.factors.map((factor) => levelsFor(factor, cut, terms));
  const size = levels.reduce((product, { length }) => product * length, 1);
  const all =
    size <= MOST_COMBINATIONS
      ? combinations(levels).map((row) => settingsOf(cut.factors, row))
      : cut.factors.flatMap((factor, place) =>
          (levels[place] ?? []).map((setting): Settings => ({ ...usual, [factor.name]: setting })),
        );
  const distinct = new Map([usual, ...all].map((settings) => [settingsKey(cut.factors, settings), settings]));
  return [...distinct.values()]
    .filter((settings) => mayBeCut(cut, settings))
    .map((settings) => ({
      settings,
      changes: cut.factors.filter(({ name }) => !sameSetting(settings[name], usual[name])).length,
    }))
    .sort((one, other) => one.changes - other.changes);
}

/** Every different setting that was planned and may be cut again. */
export function cutSettings(cut: Cut): readonly Settings[] {
  const distinct = new Map(cut.planned.map((run) => [settingsKey(cut.factors, run.settings), run.settings]));
  return [...distinct.values()];
}

function settingsOf(factors: readonly Factor[], row: readonly Setting[]): Settings {
  return Object.fromEntries(factors.map(({ name }, place) => [name, row[place] ?? ""]));
}

/** Settings cut so far; with as many levels as the highest power asks, and one. */
function levelsFor(factor: Factor, cut: Cut, terms: readonly Term[]): readonly Setting[] {
  const seen = plannedLevels(factor, cut.planned);
  const degree = Math.max(0, ...terms.map((term) => term[factor.name] ?? 0));
  if (factor.kind === "category" || degree < 2 || seen.length > degree) return seen;
  const between = spacedLevels(factor, degree + 1, spacingOf(factor)).map((level) => settable(factor, level));
  return [...seen, ...between.filter((level) => !seen.some((other) => sameSetting(other, level)))];
}

/** The commonest setting of each factor; the earliest cut among equals. */
function usualSettings(cut: Cut): Settings {
  const often = (name: string): Setting => {
    let best: Setting = "";
    let most = 0;
    for (const { settings } of cut.planned) {
      const setting = settings[name] ?? "";
      const times = cut.planned.filter((run) => sameSetting(run.settings[name], setting)).length;
      if (times > most) [best, most] = [setting, times];
    }
    return best;
  };
  return Object.fromEntries(cut.factors.map(({ name }) => [name, often(name)]));
}

/** Whether one run keeps spindle, cutter and feed limits; stock, minutes and passes belong to the whole plan. */
function mayBeCut({ spec }: Cut, settings: Settings): boolean {
  if (spec === null) return true;
  const run: Run = { run: 1, standard: 1, block: 1, role: "added", settings };
  try {
    checkLimits({ ...spec, budget: {} }, [run]);
    return true;
  } catch (cause) {
    if (cause instanceof LimitError) return false;
    throw cause;
  }
}
