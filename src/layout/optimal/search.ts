import { seededRandom, type SeededRandom } from "../../numerics/index.ts";
import type { Allowed } from "./allowed.ts";
import type { DesignPlan, DesignPoints } from "./design-state.ts";
import { drawing, type Draw } from "./draw.ts";
import { coordinateExchange, type Exchange, type Settled } from "./exchange.ts";
import type { SearchModel } from "./search-model.ts";

export interface SearchRequest {
  /** Factors, which is how many coordinates a run has. */
  readonly width: number;
  readonly plan: DesignPlan;
  /** Variance between whole plots beside that between runs. */
  readonly varianceRatio: number;
  readonly starts: number;
  readonly seed: number;
  /** Coordinates of the runs that are kept, first in the design. */
  readonly kept: Float64Array;
  readonly allowed: Allowed | undefined;
  /** Why settings may not be cut, for the refusal. */
  readonly whyNot: (points: DesignPoints, run: number) => string | null;
  /** A design that is worth the first start, such as a known construction; made only when that start is. */
  readonly known: () => DesignPoints | undefined;
}

export interface SearchOutcome {
  readonly coordinates: Float64Array;
  readonly worth: number;
  /** The worth that each start reached, in order of the starts. */
  readonly worths: readonly number[];
  /** The starts that were asked for, where the search was stopped before it had made them. */
  readonly stoppedOf?: number;
}

/** What one start came to. */
export interface StartOutcome {
  readonly coordinates: Float64Array;
  readonly worth: number;
  /** False where it was stopped on the way. */
  readonly finished: boolean;
}

/** Makes starts by their number: a start gives the same design in whichever order and thread it is made. */
export type StartMaker = (start: number) => StartOutcome;

/** After a start has come to rest, so many times some of its runs are drawn anew and exchanged again. */
const KICKS = 3;
/** The share of the runs that a kick draws anew, at most. */
const KICKED_SHARE = 0.3;

/** What settings of few figures may cost, relatively. */
const ROUNDED = 1e-7;

/** Prepares the starts of a search; `shouldStop` is asked after every sweep. */
export function startMaker(
  model: SearchModel,
  request: SearchRequest,
  shouldStop: () => boolean = () => false,
): StartMaker {
  const { plan, allowed } = request;
  const exchange = coordinateExchange(model, plan, {
    varianceRatio: request.varianceRatio,
    allowed,
    shouldStop,
  });
  const draw = drawing(model, plan, allowed, request.whyNot);
  const seeds = startSeeds(request.seed, request.starts);
  return (start) => {
    const random = seededRandom(seeds[start] ?? 0);
    const found = oneStart(
      request,
      exchange,
      draw,
      random,
      start === 0 ? request.known() : undefined,
      shouldStop,
    );
    return { coordinates: found.coordinates, worth: found.worth, finished: !shouldStop() };
  };
}

function startSeeds(seed: number, starts: number): readonly number[] {
  const random = seededRandom(seed);
  return Array.from({ length: starts }, () => random.integer(2 ** 31));
}

function oneStart(
  request: SearchRequest,
  exchange: Exchange,
  draw: Draw,
  random: SeededRandom,
  known: DesignPoints | undefined,
  shouldStop: () => boolean,
): Settled {
  const { plan } = request;
  let best = exchange.settle(known ?? randomStart(request, draw, random));
  for (let kick = 0; kick < KICKS && best.worth > Number.NEGATIVE_INFINITY && !shouldStop(); kick += 1) {
    const points = {
      coordinates: Float64Array.from(best.coordinates),
      places: Int32Array.from(best.places),
    };
    kickRuns(points, plan, draw, random);
    const found = exchange.settle(points);
    if (found.worth > best.worth) best = found;
  }
  if (shouldStop() || best.worth === Number.NEGATIVE_INFINITY) return best;
  const fine = exchange.refine(best);
  return fine.worth > best.worth - ROUNDED * Math.max(1, Math.abs(best.worth)) ? fine : best;
}

function randomStart({ plan, kept, width }: SearchRequest, draw: Draw, random: SeededRandom): DesignPoints {
  const points = emptyPoints(plan.runs * width);
  points.coordinates.set(kept);
  draw.all(points, random);
  return points;
}

export function emptyPoints(length: number): DesignPoints {
  return { coordinates: new Float64Array(length), places: new Int32Array(length).fill(-1) };
}

/** Draws some runs anew, and with whole plots sometimes one of these. */
function kickRuns(points: DesignPoints, plan: DesignPlan, draw: Draw, random: SeededRandom): void {
  const { plots, fixed } = plan;
  const free = plan.runs - fixed;
  if (plots && random.integer(2) === 0) {
    const count = 1 + random.integer(Math.max(1, Math.floor((plots.count - plots.firstFree) * KICKED_SHARE)));
    for (let again = 0; again < count; again += 1)
      draw.plot(points, random, plots.firstFree + random.integer(plots.count - plots.firstFree));
    return;
  }
  const count = 1 + random.integer(Math.max(1, Math.floor(free * KICKED_SHARE)));
  for (let again = 0; again < count; again += 1) draw.run(points, random, fixed + random.integer(free));
}

/** Gathers starts as they are made. Of equal ones the first by number is best, so that it does not matter who made which. */
export interface Tally {
  readonly add: (start: number, outcome: StartOutcome) => void;
  readonly has: (start: number) => boolean;
  readonly empty: () => boolean;
  readonly outcome: () => SearchOutcome;
}

export function tally(starts: number): Tally {
  const worths = new Map<number, number>();
  let best: { readonly start: number; readonly outcome: StartOutcome } | undefined;
  return {
    add: (start, outcome) => {
      if (outcome.finished) worths.set(start, outcome.worth);
      const more = outcome.worth - (best?.outcome.worth ?? Number.NEGATIVE_INFINITY);
      if (!best || more > 0 || (outcome.worth === best.outcome.worth && start < best.start))
        best = { start, outcome };
    },
    has: (start) => worths.has(start),
    empty: () => best === undefined,
    outcome: () => ({
      coordinates: best?.outcome.coordinates ?? new Float64Array(0),
      worth: best?.outcome.worth ?? Number.NEGATIVE_INFINITY,
      worths: [...worths].sort(([one], [other]) => one - other).map(([, worth]) => worth),
      ...(worths.size < starts ? { stoppedOf: starts } : {}),
    }),
  };
}

/** All starts, one after another. */
export function searchAll(model: SearchModel, request: SearchRequest): SearchOutcome {
  const make = startMaker(model, request);
  const found = tally(request.starts);
  for (let start = 0; start < request.starts; start += 1) found.add(start, make(start));
  return found.outcome();
}
