import type { SmallSample } from "../../numerics/index.ts";
import type { FitOptions } from "../fit-options.ts";
import type { ModelKind } from "../term.ts";
import type { RandomColumns } from "../table-sources.ts";

/** What a mixed fit may be told, besides what every fit may; every default is stated here. */
export interface MixedOptions extends Omit<FitOptions, "model" | "throughOrigin" | "block" | "weights"> {
  /** A named set of terms. Default "main". With "power-law", `terms` may be given as well. */
  readonly model?: ModelKind;
  /**
   * Sources of random variation by name; several names joined mean each combination of theirs. Of a trial: `block`, `whole plot`, `run` and `spot` (readings are
   * rows of their own then), or a factor. Of observations: those that they were made with. Default: the whole plots of a trial, all sources of observations.
   */
  readonly random?: readonly RandomColumns[];
  /** How small samples are allowed for. Default "satterthwaite". */
  readonly smallSample?: SmallSample;
}
