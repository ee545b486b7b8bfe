import type { Setting, Settings } from "../trial/index.ts";
import { settingsSeen, type CutRun, type ReviewedFactor } from "./context.ts";
import { mainEffectColumns } from "./main-effect-columns.ts";

/** Above this many combinations only one-change-at-a-time candidates are looked at. */
const mostCombinations = 4096;

/**
 * The fewest further runs that let the main effects of all moved factors be told apart, at settings that were cut before.
 * Each run added raises the rank by one, so their number is the number of effects that are missing; among the runs that do, the one
 * that differs from the commonest setting in the fewest factors is taken (one thing changed at a time), then the one that is best known (largest
 * distance from what the runs already span).
 *
 * @param factors the factors that moved
 * @param runs the runs cut so far, with settings as cut
 * @param options.allowed says whether a combination may be cut at all (limits); all may by default
 * @returns settings of the runs to add; empty where the effects are separate already, and short of the full number where no allowed combination helps
 * @example separatingRuns of speed and edge that both changed only in run 9 is one run: the usual speed with run 9's edge.
 */
export function separatingRuns(
  factors: readonly ReviewedFactor[],
  runs: readonly CutRun[],
  { allowed = () => true }: { allowed?: (settings: Settings) => boolean } = {},
): readonly Settings[] {
  if (runs.length === 0 || factors.length === 0) return [];
  const blocks = mainEffectColumns(factors, runs);
  const rowOf = (settings: Settings) => [1, ...blocks.flatMap(({ row }) => row(settings))];
  const basis: number[][] = [];
  for (const { settings } of runs) extend(basis, rowOf(settings));
  const full = rowOf(runs[0].settings).length;
  const usual = usualSettings(factors, runs);
  const candidates = candidateSettings(factors, runs, usual);
  const added: Settings[] = [];
  while (basis.length < full) {
    const best = candidates
      .map((settings) => ({
        settings,
        changes: changesFrom(usual, settings),
        distance: distanceFrom(basis, rowOf(settings)),
      }))
      .filter(({ distance }) => distance > newDirection)
      .sort((a, b) => a.changes - b.changes || b.distance - a.distance)
      // Limits are costly to look up: only those of the runs that come first are asked.
      .find(({ settings }) => allowed(settings));
    if (!best) break;
    extend(basis, rowOf(best.settings));
    added.push(best.settings);
  }
  return added;
}

/** Part of a row outside what the runs span, relative to the row's own length, that counts as a new direction; rounding leaves about 1e-15. */
const newDirection = 1e-8;

/** Gram–Schmidt, twice for accuracy: what of `row` is not spanned by the orthonormal `basis`. */
function remainder(basis: readonly number[][], row: readonly number[]): number[] {
  const left = [...row];
  for (let pass = 0; pass < 2; pass += 1) {
    for (const direction of basis) {
      const along = direction.reduce((sum, value, index) => sum + value * left[index], 0);
      direction.forEach((value, index) => (left[index] -= along * value));
    }
  }
  return left;
}

function distanceFrom(basis: readonly number[][], row: readonly number[]): number {
  return Math.hypot(...remainder(basis, row)) / Math.hypot(...row);
}

function extend(basis: number[][], row: readonly number[]): void {
  const left = remainder(basis, row);
  const length = Math.hypot(...left);
  if (length > newDirection * Math.hypot(...row)) basis.push(left.map((value) => value / length));
}

/** The commonest setting of each factor; the earliest cut among equals. */
export function usualSettings(factors: readonly ReviewedFactor[], runs: readonly CutRun[]): Settings {
  const usual: Record<string, Setting> = { ...runs[0].settings };
  for (const { name } of factors) {
    const count = (setting: Setting) => runs.filter(({ settings }) => settings[name] === setting).length;
    const seen = [...new Set(runs.map(({ settings }) => settings[name]))];
    usual[name] = seen.reduce((best, setting) => (count(setting) > count(best) ? setting : best));
  }
  return usual;
}

function changesFrom(usual: Settings, settings: Settings): number {
  return Object.keys(settings).filter((factor) => settings[factor] !== usual[factor]).length;
}

function candidateSettings(
  factors: readonly ReviewedFactor[],
  runs: readonly CutRun[],
  usual: Settings,
): readonly Settings[] {
  const levels = factors.map(({ name }) => settingsSeen(runs, name));
  const combinations = levels.reduce((product, { length }) => product * length, 1);
  const oneChange = factors.flatMap(({ name }, index) =>
    levels[index].map((setting): Settings => ({ ...usual, [name]: setting })),
  );
  if (combinations > mostCombinations) return oneChange;
  let all: Settings[] = [usual];
  factors.forEach(({ name }, index) => {
    all = all.flatMap((settings) => levels[index].map((setting) => ({ ...settings, [name]: setting })));
  });
  return all;
}
