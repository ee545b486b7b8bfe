import type { Allowed } from "./allowed.ts";
import { roundCoordinates } from "./axis.ts";
import {
  emptyState,
  loadPoints,
  refresh,
  worthOf,
  type DesignPlan,
  type DesignPoints,
  type DesignState,
} from "./design-state.ts";
import { plotExchange } from "./plot-exchange.ts";
import { runExchange } from "./run-exchange.ts";
import type { SearchModel } from "./search-model.ts";

export interface Settled extends DesignPoints {
  /** Larger is better: log determinant for D, minus the trace for I and A; −∞ where terms can't be told apart. */
  readonly worth: number;
}

/** Carries designs to where no exchange of a coordinate gains. Keeps its working memory from one design to the next. */
export interface Exchange {
  /** Over the candidates; a stop leaves the design as far as it has come. */
  readonly settle: (start: DesignPoints) => Settled;
  /** Between the candidates as well, ending on settings of few figures. */
  readonly refine: (start: Settled) => Settled;
}

/** Sweeps after which a search is stopped whatever it gains; ten or so are usual. */
const MOST_SWEEPS = 200;
/** Sweeps between the candidates: what is left to gain after these is beyond the figures shown. */
const MOST_FINE_SWEEPS = 40;
/** Updates gather rounding; so many sweeps of them leave ten figures. */
const SWEEPS_TO_REFRESH = 8;
/** Added to the diagonal of a start that can't tell all terms apart. */
const RIDGE = 1e-3;

/**
 * Coordinate exchange (Meyer and Nachtsheim, Technometrics 37, 1995, 60–69): whole plot by whole plot and run by run the best
 * value of each coordinate in turn is taken, until a whole sweep gains nothing.
 */
export function coordinateExchange(
  model: SearchModel,
  plan: DesignPlan,
  options: {
    readonly varianceRatio: number;
    readonly allowed: Allowed | undefined;
    readonly shouldStop: () => boolean;
  },
): Exchange {
  const { allowed, shouldStop } = options;
  const state = emptyState(model, plan);
  const runs = runExchange(state, allowed);
  const { plots } = plan;
  const whole = plots ? plotExchange(state, plots, options.varianceRatio, allowed) : undefined;

  const sweep = (refine: boolean): boolean => {
    let changed = false;
    for (let plot = plots?.firstFree ?? 0; plot < (plots?.count ?? 0); plot += 1) {
      if (whole?.improve(plot, refine)) changed = true;
    }
    for (let run = plan.fixed; run < plan.runs; run += 1) {
      if (runs.improve(run, refine)) changed = true;
    }
    return changed;
  };
  const sweeps = (most: number, refine: boolean): void => {
    let ridge = 0;
    for (let count = 0; count < most; count += 1) {
      if (count % SWEEPS_TO_REFRESH === 0 || ridge > 0) {
        if (refresh(state, 0)) ridge = 0;
        else {
          ridge = RIDGE;
          if (!refresh(state, ridge)) return;
        }
      }
      if (!sweep(refine) || shouldStop()) return;
    }
  };
  const settled = (): Settled => {
    const found = refresh(state, 0);
    return {
      coordinates: Float64Array.from(state.points.coordinates),
      places: Int32Array.from(state.points.places),
      worth: found ? worthOf(state) : Number.NEGATIVE_INFINITY,
    };
  };

  return {
    settle: (start) => {
      loadPoints(state, start);
      sweeps(MOST_SWEEPS, false);
      return settled();
    },
    refine: (start) => {
      if (model.axes.every((axis) => axis.between === "nothing")) return start;
      loadPoints(state, start);
      sweeps(MOST_FINE_SWEEPS, true);
      roundSettings(state, allowed);
      loadPoints(state, state.points);
      return settled();
    },
  };
}

/** Gives every setting few figures, where the constraints allow it. */
function roundSettings({ model, plan, points }: DesignState, allowed: Allowed | undefined): void {
  const width = model.factors.length;
  const { plots } = plan;
  for (let run = plan.fixed; run < plan.runs; run += 1) {
    model.axes.forEach((axis, factor) => {
      const shared = plots?.hard[factor]
        ? plots.runs.subarray(plots.from[plots.of[run]], plots.from[plots.of[run] + 1])
        : Int32Array.of(run);
      if (axis.between !== "any" || shared[0] !== run) return;
      for (const coordinate of roundCoordinates(axis, points.coordinates[run * width + factor])) {
        for (const other of shared) {
          points.coordinates[other * width + factor] = coordinate;
          points.places[other * width + factor] = axis.candidates.indexOf(coordinate);
        }
        if (!allowed || shared.every((other) => allowed(points, other))) break;
      }
    });
  }
}
