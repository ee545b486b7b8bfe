import { seededRandom, type SeededRandom } from "../../numerics/index.ts";
import { LayoutError } from "../error.ts";
import { exchange, type Allowed, type ExchangeResult, type SearchDesign } from "./exchange.ts";
import type { Criterion } from "./information-state.ts";
import type { SearchModel } from "./search-model.ts";

export interface SearchRequest {
  readonly criterion: Criterion;
  readonly starts: number;
  readonly seed: number;
  /** Block of each run, from 0. */
  readonly blockOf: Int32Array;
  /** Points of the runs that are kept, first in the design. */
  readonly kept: Int32Array;
  readonly allowed?: Allowed | undefined;
  /** Designs that are worth a start of their own, such as a known construction. */
  readonly known: readonly Int32Array[];
}

export interface SearchOutcome {
  readonly points: Int32Array;
  readonly worth: number;
  /** The worth that each start reached, in order of the starts. */
  readonly worths: readonly number[];
  /** The starts that were asked for, where the search was stopped before it had made them. */
  readonly stoppedOf?: number;
}

/** Seeds of the starts, so that a start gives the same design whichever thread runs it. */
export function startSeeds(seed: number, starts: number): readonly number[] {
  const random = seededRandom(seed);
  return Array.from({ length: starts }, () => random.integer(2 ** 31));
}

/** The best of many starts. Known designs come first; `from` and `to` choose among the starts, for sharing them out. */
export function searchStarts(
  model: SearchModel,
  request: SearchRequest,
  options: {
    readonly from?: number;
    readonly to?: number;
    readonly onStart?: (done: number, best: number) => void;
    readonly shouldStop?: () => boolean;
  } = {},
): SearchOutcome {
  const { from = 0, to = request.starts, onStart, shouldStop } = options;
  const seeds = startSeeds(request.seed, request.starts);
  const worths: number[] = [];
  let best: { points: Int32Array; worth: number } | undefined;
  for (let start = from; start < to; start += 1) {
    if (start > from && shouldStop?.()) break;
    const found = oneStart(model, request, seededRandom(seeds[start] ?? 0), request.known[start]);
    worths.push(found.worth);
    if (!best || found.worth > best.worth) best = found;
    onStart?.(worths.length, best.worth);
  }
  if (!best) throw new LayoutError("optimal: no start was made. Ask for at least 1 start.");
  return { ...best, worths };
}

/** After a start has come to rest, so many times some of its runs are drawn anew and exchanged again. */
const KICKS = 3;
/** The share of the runs that a kick draws anew, at most. */
const KICKED_SHARE = 0.3;

function oneStart(
  model: SearchModel,
  request: SearchRequest,
  random: SeededRandom,
  known: Int32Array | undefined,
): ExchangeResult {
  const fixed = request.kept.length / model.factors.length;
  const settle = (points: Int32Array) => {
    const design: SearchDesign = { points, blockOf: request.blockOf, fixed };
    return exchange(model, design, request.criterion, request.allowed);
  };
  let best = settle(known ?? randomStart(model, request, random));
  const runs = request.blockOf.length;
  for (let kick = 0; kick < KICKS && best.worth > Number.NEGATIVE_INFINITY; kick += 1) {
    const points = Int32Array.from(best.points);
    const count = 1 + random.integer(Math.max(1, Math.floor((runs - fixed) * KICKED_SHARE)));
    for (let again = 0; again < count; again += 1) {
      drawRun(model, request, random, points, fixed + random.integer(runs - fixed));
    }
    const found = settle(points);
    if (found.worth > best.worth) best = found;
  }
  return best;
}

/** Tries for one run that the constraints allow. */
const TRIES = 4000;

function randomStart(model: SearchModel, request: SearchRequest, random: SeededRandom): Int32Array {
  const size = model.factors.length;
  const runs = request.blockOf.length;
  const points = new Int32Array(runs * size);
  points.set(request.kept);
  for (let run = request.kept.length / size; run < runs; run += 1)
    drawRun(model, request, random, points, run);
  return points;
}

function drawRun(
  model: SearchModel,
  request: SearchRequest,
  random: SeededRandom,
  points: Int32Array,
  run: number,
): void {
  const size = model.factors.length;
  let tries = 0;
  do {
    tries += 1;
    if (tries > TRIES) {
      throw new LayoutError(
        `layout.constraints: none of ${TRIES.toLocaleString("en")} settings drawn over the ranges is allowed. Loosen a constraint or widen a range.`,
      );
    }
    for (let factor = 0; factor < size; factor += 1) {
      points[run * size + factor] = random.integer(model.candidates[factor]?.length ?? 1);
    }
  } while (request.allowed && !request.allowed(points, run * size));
}
