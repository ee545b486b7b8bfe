import type { Setting, Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { PassFigures } from "../recipe.ts";
import { boundMultiple } from "./bound-multiple.ts";
import { decide, decideIfKnown, decisionOf, type Decision } from "./decision.ts";
import { passFiguresAt } from "./find-joint-recipe.ts";
import { gridSearch, type SearchEnd } from "./grid-search.ts";
import type { JointRecipeOptions } from "./joint-recipe.ts";
import { keptLimits, stopsAt } from "./kept-limits.ts";
import { limitJudge } from "./limit-judge.ts";
import { product, withMoreRuns } from "./more-runs.ts";
import { settingsAt, type Objective } from "./pass-score.ts";
import { dfFor } from "./point-evaluator.ts";
import type { SearchAxis } from "./search-space.ts";

export interface NextPassesOptions extends JointRecipeOptions {
  /** How many passes may be cut. Default 4. */
  readonly passes?: number;
}

/** A recipe as far as it is compared: what it pushes, and what a pass takes. */
export interface Outlook extends PassFigures {
  readonly kept: boolean;
  readonly settings: Readonly<Record<string, Setting>>;
  /** Removal rate, passes a minute, or the product that is pushed; null where no setting keeps the limits. */
  readonly score: number | null;
}

/** One further pass, with what is left of the doubt at the recipe's settings once it is cut. */
export interface NextPass {
  readonly settings: Readonly<Record<string, Setting>>;
  /** Distance from estimate to bound at the recipe's settings by then, as a share of today's; by response. */
  readonly doubtLeft: Readonly<Record<string, number>>;
}

/** Which passes narrow the decision most, what they are expected to gain, and what stopping costs. */
export interface NextPasses {
  readonly objective: Objective;
  /** The responses whose doubt is narrowed: those that bind, or that come nearest to their limit. */
  readonly narrowed: readonly string[];
  readonly now: Outlook;
  readonly passes: readonly NextPass[];
  /** With these passes cut, were the estimates to stay where they are. */
  readonly expected: Outlook;
  /** Were model and scatter known: the most that any further cutting could give. */
  readonly ifKnown: Outlook;
  /** Shares of today's score: what the passes are expected to gain, and what stopping now gives away. */
  readonly gain: number | null;
  readonly costOfStopping: number | null;
}

const mostPasses = 16;
const mostCandidates = 4000;

/**
 * The few further passes that reduce the distance from estimate to bound most at a recipe's settings, how much more the recipe could then be expected to give,
 * and what stopping now costs: the recipe at its bounds against the recipe at the estimates themselves.
 *
 * Passes are taken one after another, each the best after those before it, from corners, middles and the recipe's own settings, on increments and within the
 * machine's limits; replicates are allowed. Each adds its information by a rank-one update (Fedorov 1972) and one degree of freedom. What is expected supposes that estimates and scatter
 * stay; cutting will move both.
 * Refused: what `jointRecipe` refuses; passes below 1 or above 16.
 * Example: `nextPasses(trial, fits).gain` is 0.06: six per cent more removal may be expected from four passes.
 */
export function nextPasses(trial: Trial, fits: readonly Fit[], options: NextPassesOptions = {}): NextPasses {
  const { passes: wanted = 4, ...rest } = options;
  if (!Number.isInteger(wanted) || wanted < 1 || wanted > mostPasses)
    throw modelError(`${wanted} passes`, `a whole number from 1 to ${mostPasses}`);
  const decision = decisionOf(trial, fits, rest);
  const end = decide(decision);
  const settings = settingsAt(decision.space, end.which, end.place);
  const narrowed = narrowedBy(decision, end, settings);
  const candidates = candidatesOf(decision, end);
  const added = fits.map((): Float64Array[] => []);
  const passes: NextPass[] = [];
  for (let k = 0; k < wanted; k++) {
    const best = mostNarrowing(decision, { settings, narrowed, candidates, added });
    fits.forEach((_, j) => added[j].push(whitened(decision, j, best)));
    passes.push({ settings: best, doubtLeft: doubtLeft(decision, { settings, narrowed, added }) });
  }
  const later = gridSearch(
    decision.space,
    decision.limits.map((limit, j) =>
      limitJudge(limit, withMoreRuns(decision.evaluators[j], added[j]), { withinCut: decision.withinCut }),
    ),
    decision.scores,
  );
  const [now, expected, ifKnown] = [end, later, decideIfKnown(decision)].map((one) => outlook(decision, one));
  const over = (one: Outlook): number | null =>
    now.score === null || one.score === null ? null : Math.max(0, one.score / now.score - 1);
  return {
    objective: decision.objective,
    narrowed: narrowed.map((j) => decision.limits[j].response),
    now,
    passes,
    expected,
    ifKnown,
    gain: over(expected),
    costOfStopping: over(ifKnown),
  };
}

function outlook(decision: Decision, end: SearchEnd): Outlook {
  const settings = settingsAt(decision.space, end.which, end.place);
  return {
    kept: end.kept,
    settings,
    score: end.kept ? end.score : null,
    ...passFiguresAt(decision.trial, settings),
  };
}

function narrowedBy(
  decision: Decision,
  end: SearchEnd,
  settings: Readonly<Record<string, Setting>>,
): readonly number[] {
  const stopping = new Set(end.kept ? stopsAt(decision, end).flatMap(({ by }) => by) : []);
  const binding = decision.limits.flatMap(({ response }, j) => (stopping.has(response) ? [j] : []));
  if (binding.length > 0) return binding;
  const kept = keptLimits(decision, settings, new Set());
  // Without scatter a limit is infinitely far from its bound, on one side or the other.
  const rooms = kept.map(({ marginInSd, isKept }) => marginInSd ?? (isKept ? Infinity : -Infinity));
  const least = Math.min(...rooms);
  return rooms.flatMap((room, j) => (room === least || (!end.kept && room < 0) ? [j] : []));
}

/** Corners, middles and quarters of what is searched, and the recipe's own settings, as far as the machine may run there. */
function candidatesOf(
  { space, scores }: Decision,
  end: SearchEnd,
): readonly Readonly<Record<string, Setting>>[] {
  const { axes, combinations } = space;
  const places = [5, 3, 2].map((each) => axes.map((axis, i) => stations(axis, each, end.place[i])));
  const count = (stationsOf: readonly (readonly number[])[]): number =>
    stationsOf.reduce((all, one) => all * one.length, combinations.length);
  const chosen = places.find((one) => count(one) <= mostCandidates) ?? places[2];
  return combinations.flatMap((_, which) =>
    chosen
      .reduce<readonly (readonly number[])[]>(
        (all, stationsOfAxis) => all.flatMap((start) => stationsOfAxis.map((k) => [...start, k])),
        [[]],
      )
      .map((place) => Int32Array.from(place))
      .filter((place) => scores[which].isAllowed(place))
      .map((place) => settingsAt(space, which, place)),
  );
}

function stations({ settings }: SearchAxis, each: number, own: number): readonly number[] {
  const last = settings.length - 1;
  const even = Array.from({ length: each }, (_, k) => Math.round((k * last) / (each - 1)));
  return [...new Set([...even, own])].sort((a, b) => a - b);
}

function whitened(
  { evaluators }: Decision,
  j: number,
  settings: Readonly<Record<string, Setting>>,
): Float64Array {
  const point = evaluators[j].centre();
  for (const [name, setting] of Object.entries(settings)) evaluators[j].set(point, name, setting);
  const white = new Float64Array(evaluators[j].rank);
  evaluators[j].whiten(point, white);
  return white;
}

interface SoFar {
  readonly settings: Readonly<Record<string, Setting>>;
  readonly narrowed: readonly number[];
  readonly added: readonly (readonly Float64Array[])[];
}

function mostNarrowing(
  decision: Decision,
  {
    settings,
    narrowed,
    candidates,
    added,
  }: SoFar & { readonly candidates: readonly Readonly<Record<string, Setting>>[] },
): Readonly<Record<string, Setting>> {
  const standing = narrowed.map((j) => {
    const evaluator = withMoreRuns(decision.evaluators[j], added[j]);
    const at = (one: Readonly<Record<string, Setting>>): Float64Array =>
      whitened({ ...decision, evaluators: [evaluator] }, 0, one);
    return { at, here: at(settings) };
  });
  let best = { share: -1, settings: candidates[0] };
  for (const candidate of candidates) {
    let share = 0;
    for (const { at, here } of standing) {
      const there = at(candidate);
      share += product(here, there) ** 2 / (1 + product(there, there)) / product(here, here);
    }
    // Of runs that narrow alike the first stays.
    if (share > best.share * (1 + 1e-9)) best = { share, settings: candidate };
  }
  if (best.share < 0)
    throw modelError("no pass that the machine may run", "limits that leave settings to cut");
  return best.settings;
}

function doubtLeft(
  decision: Decision,
  { settings, narrowed, added }: SoFar,
): Readonly<Record<string, number>> {
  return Object.fromEntries(
    narrowed.map((j) => {
      const before = decision.evaluators[j];
      const after = withMoreRuns(before, added[j]);
      const point = before.centre();
      for (const [name, setting] of Object.entries(settings)) before.set(point, name, setting);
      const width = (evaluator: typeof before): number => {
        const out = new Float64Array(4);
        evaluator.evaluate(point, out);
        return boundMultiple(decision.limits[j], out[1], dfFor(decision.limits[j].for, evaluator, out));
      };
      const was = width(before);
      return [decision.limits[j].response, was > 0 ? width(after) / was : 1];
    }),
  );
}
