import type { ContrastEstimate, JointTest, SmallSample } from "../../numerics/index.ts";
import type { Setting } from "../../trial/index.ts";
import type { Fit, Prediction, Uncertain } from "../fit.ts";

/** What one source of random variation adds to the scatter. All figures are on the scale that was fitted. */
export interface VariancePart {
  /** The name of the source; "residual" for what is left within all of them. */
  readonly source: string;
  /** How many levels of it there were; rows for the residual. */
  readonly levels: number;
  /** Zero where the readings show no scatter of this source beyond what the others explain. */
  readonly variance: number;
  readonly standardDeviation: number;
  /** Of the standard deviation, by profile likelihood. */
  readonly interval: Uncertain;
  /** Of the variance of one row: one reading, or one run where readings were averaged. */
  readonly share: number;
  /** Of the share, by profile likelihood. */
  readonly shareInterval: Uncertain;
  /** In the shop's words. */
  readonly sentence: string;
}

/** What plain least squares would have claimed of an effect, beside what the sources of scatter allow. Half-widths are on the scale that was fitted. */
export interface PlainClaim {
  readonly factor: string;
  readonly to: Setting;
  readonly plainHalfWidth: number;
  readonly plainDf: number;
  readonly halfWidth: number;
  readonly df: number;
  /** In words where plain least squares claims too much; empty where it does not. */
  readonly text: string;
}

/** What further columns would say, by Kenward and Roger's method: the first by itself, and all of them together. */
export interface AddedColumns extends ContrastEstimate {
  readonly test: JointTest | null;
}

export interface MixedPrediction extends Prediction {
  /** One reading on such a run; null where the fit does not know runs from readings. */
  readonly reading: { readonly low: number; readonly high: number } | null;
}

/** A fit with random sources. `rows` hold fitted values with the predicted effects of the levels in them; `residualSd` is that within all sources. */
export interface MixedFit extends Fit {
  readonly random: readonly string[];
  readonly smallSample: SmallSample;
  /** Each source in the order asked for, the residual last. */
  readonly variances: readonly VariancePart[];
  /** Predicted effect of each level (best linear unbiased prediction), on the scale that was fitted. */
  readonly levelEffects: readonly {
    readonly source: string;
    readonly levels: readonly { readonly level: string; readonly effect: number }[];
  }[];
  /** −2 log restricted likelihood. */
  readonly deviance: number;
  /** How the variances were found, and how sure that it is the best place. */
  readonly convergence: string;
  readonly plainClaims: readonly PlainClaim[];
  /** A combination of `coefficients`, one multiple for each, on the scale that was fitted, with its standard error and degrees of freedom of its own. */
  readonly contrast: (multiples: ArrayLike<number>) => ContrastEstimate;
  /** A fresh run is one on fresh levels of every source: another day, another whole plot. */
  readonly predict: (
    at: Readonly<Record<string, Setting>>,
    options?: { confidence?: number },
  ) => MixedPrediction;
  /** The model fitted anew with further fixed columns; null where that can't be had or nothing of them is left to tell. */
  readonly added: (columns: readonly Float64Array[]) => AddedColumns | null;
}
