import type { Factor, Settings } from "../../trial/index.ts";
import { tQuantile } from "../../numerics/index.ts";
import { LayoutError } from "../error.ts";
import { errorDf } from "./error-df.ts";
import { modelColumns, type ModelChoice } from "./model-columns.ts";
import { carried, squaredLength, toldModel, type JudgedRun, type ScatterChoice } from "./told.ts";

/** The predicted mean at any settings, as a layout would know it. */
export interface MeanPrecision {
  /** Variances of the predicted mean at these settings, for σ = 1, averaged over blocks. */
  readonly variancesAt: (places: readonly Settings[]) => readonly number[];
  /** The same with the degrees of freedom of each mean: those of the runs, or where set-ups scatter of its own mix of both; null where none is left. */
  readonly knownAt: (
    places: readonly Settings[],
  ) => readonly { readonly variance: number; readonly df: number | null }[];
  /** Coefficients of the model, the mean among them; blocks are not. */
  readonly coefficients: number;
}

/** Works a layout out once, to ask for many places. Refuses a model whose terms the runs can't tell apart. */
export function meanPrecision(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  choice: ModelChoice & ScatterChoice,
): MeanPrecision {
  const told = toldModel(runs, factors, choice);
  const { model, information } = told;
  if (information.dropped.length > 0) {
    throw new LayoutError(
      "precision: the runs can't tell all the terms apart. Ask for fewer terms or add runs.",
    );
  }
  const alongAt = (places: readonly Settings[]) => {
    const at = modelColumns(
      factors,
      model.terms,
      places.map((settings) => ({ block: 1, settings })),
    );
    const blocks = model.columns.length - at.columns.length;
    return places.map((_, place) => {
      const row = at.columns.map((column) => column[place] ?? 0);
      return carried(
        information,
        Float64Array.from([row[0] ?? 1, ...new Array<number>(blocks).fill(0), ...row.slice(1)]),
      );
    });
  };
  return {
    variancesAt: (places) => alongAt(places).map(squaredLength),
    knownAt: (places) => {
      const { of } = errorDf(told);
      return alongAt(places).map((along) => ({ variance: squaredLength(along), df: of(along).df }));
    },
    coefficients: model.parts.filter((part) => part !== undefined).length,
  };
}

export interface HalfWidthOptions extends ModelChoice, ScatterChoice {
  /** The guess of the run-to-run standard deviation; default 1, for half-widths in multiples of it. */
  readonly sigma?: number;
  /** Default 0.95. */
  readonly confidence?: number;
}

/**
 * Half the width of the interval of the mean at stated settings, before a chip is cut: t × σ × √variance.
 *
 * Use it to see where over the region a layout knows the response well. `places` are settings in the factors' units, those of
 * the runs or others. One number a place, in the unit of `sigma`; where set-ups scatter,
 * by generalised least squares at `varianceRatio`. Refuses a model whose terms the runs can't tell apart,
 * runs that leave no degree of freedom for the scatter, and a σ or a confidence that can't be.
 *
 * Example: four runs at the corners of two factors in duplicate, main effects, σ = 1: at the middle t(0.975, 5)/√8 = 0.9088.
 */
export function halfWidthsAt(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  places: readonly Settings[],
  options: HalfWidthOptions = {},
): readonly number[] {
  const { sigma = 1, confidence = 0.95 } = options;
  if (!(sigma > 0) || !Number.isFinite(sigma)) {
    throw new LayoutError(
      `precision: sigma is ${sigma}; expected the run-to-run standard deviation, above zero.`,
    );
  }
  if (!(confidence > 0 && confidence < 1)) {
    throw new LayoutError(
      `precision: confidence is ${confidence}; expected a number between 0 and 1, such as 0.95.`,
    );
  }
  const known = meanPrecision(runs, factors, options).knownAt(places);
  if (known.some(({ df }) => df === null)) {
    throw new LayoutError(
      factors.some(({ change }) => change === "hard")
        ? "precision: every run, or every set-up of a factor that is hard to change, is used up by the terms, so their scatter stays unknown and no interval can be had. Add runs or set-ups, or ask for fewer terms."
        : "precision: every run is used up by the terms, so the scatter stays unknown and no interval can be had. Add runs or ask for fewer terms.",
    );
  }
  return known.map(
    ({ variance, df }) => tQuantile((1 + confidence) / 2, df ?? Infinity) * sigma * Math.sqrt(variance),
  );
}
