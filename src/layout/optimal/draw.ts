import type { SeededRandom } from "../../numerics/index.ts";
import { LayoutError } from "../error.ts";
import type { Allowed } from "./allowed.ts";
import type { DesignPlan, DesignPoints } from "./design-state.ts";
import type { SearchModel } from "./search-model.ts";

/** Tries for one run, or one whole plot, that the constraints allow: among the candidates, then as many between them. */
const TRIES = 4000;
/** Tries for one run before its whole plot is drawn anew. */
const TRIES_IN_PLOT = 100;

/** Draws runs and whole plots by chance. */
export interface Draw {
  /** A whole design; runs that are kept stand as they are in `points`. */
  readonly all: (points: DesignPoints, random: SeededRandom) => void;
  /** One run anew, hard factors left as they are; false where the constraints leave it no other place. */
  readonly run: (points: DesignPoints, random: SeededRandom, run: number) => boolean;
  /** One whole plot anew with its runs. */
  readonly plot: (points: DesignPoints, random: SeededRandom, plot: number) => void;
}

export function drawing(
  model: SearchModel,
  plan: DesignPlan,
  allowed: Allowed | undefined,
  whyNot: (points: DesignPoints, run: number) => string | null,
): Draw {
  const width = model.factors.length;
  const { plots } = plan;
  const set = (points: DesignPoints, random: SeededRandom, run: number, factor: number, between: boolean) => {
    const { candidates, between: kind } = model.axes[factor];
    const at = run * width + factor;
    if (between && kind === "any") {
      points.coordinates[at] = random.next() * 2 - 1;
      points.places[at] = -1;
      return;
    }
    points.places[at] = random.integer(candidates.length);
    points.coordinates[at] = candidates[points.places[at]];
  };
  const drawEasy = (
    points: DesignPoints,
    random: SeededRandom,
    run: number,
    tries: number,
    between: boolean,
  ): boolean => {
    for (let attempt = 0; attempt < tries; attempt += 1) {
      for (let factor = 0; factor < width; factor += 1) {
        if (!plots?.hard[factor]) set(points, random, run, factor, between);
      }
      if (!allowed || allowed(points, run)) return true;
    }
    return false;
  };
  const noRoom = (points: DesignPoints, run: number): LayoutError => {
    const why = whyNot(points, run);
    return new LayoutError(
      `layout.constraints: none of ${TRIES.toLocaleString("en")} settings drawn over the ranges is allowed${why === null ? "" : ` (the last because ${why})`}. Loosen a constraint or widen a range.`,
    );
  };
  const drawPlot = (points: DesignPoints, random: SeededRandom, plot: number): void => {
    if (!plots) return;
    const runs = plots.runs.subarray(plots.from[plot], plots.from[plot + 1]);
    for (const between of [false, true]) {
      for (let attempt = 0; attempt < TRIES / TRIES_IN_PLOT; attempt += 1) {
        for (let factor = 0; factor < width; factor += 1) {
          if (!plots.hard[factor]) continue;
          set(points, random, runs[0], factor, between);
          for (const run of runs) {
            points.coordinates[run * width + factor] = points.coordinates[runs[0] * width + factor];
            points.places[run * width + factor] = points.places[runs[0] * width + factor];
          }
        }
        if (runs.every((run) => drawEasy(points, random, run, TRIES_IN_PLOT, between))) return;
      }
    }
    throw noRoom(points, runs[0]);
  };
  const drawRun = (points: DesignPoints, random: SeededRandom, run: number): boolean =>
    drawEasy(points, random, run, TRIES, false) || drawEasy(points, random, run, TRIES, true);
  return {
    run: (points, random, run) => {
      if (drawRun(points, random, run)) return true;
      if (plots) return false;
      throw noRoom(points, run);
    },
    plot: drawPlot,
    all: (points, random) => {
      if (plots) {
        for (let plot = plots.firstFree; plot < plots.count; plot += 1) drawPlot(points, random, plot);
        return;
      }
      for (let run = plan.fixed; run < plan.runs; run += 1) {
        if (!drawRun(points, random, run)) throw noRoom(points, run);
      }
    },
  };
}
