import type { Setting } from "../../trial/index.ts";
import { fitJson } from "../fit-json.ts";
import type { FitJson } from "../fit-json.ts";
import { isInterval } from "../words.ts";
import type { MixedFit, VariancePart } from "./mixed-fit.ts";

type Ends = { readonly low: number; readonly high: number } | null;

export interface MixedFitJson extends FitJson {
  readonly smallSample: MixedFit["smallSample"];
  readonly deviance: number;
  readonly variances: readonly {
    readonly source: string;
    readonly variance: number;
    readonly standardDeviation: number;
    /** Of the standard deviation; null where no upper limit can be told. */
    readonly interval: Ends;
    readonly share: number;
    readonly shareInterval: Ends;
    readonly levels: number;
  }[];
  /** What plain least squares would have claimed of each effect, as half-widths. */
  readonly plainClaims: readonly Omit<MixedFit["plainClaims"][number], "text">[];
  /** One reading at each setting that predictions were asked for, where readings are known from runs. */
  readonly readings?: readonly Ends[];
}

/** A mixed fit as plain JSON: what `fitJson` gives, with the variances of the sources and their shares. */
export function mixedFitJson(
  fit: MixedFit,
  options: { readonly at?: readonly Readonly<Record<string, Setting>>[] } = {},
): MixedFitJson {
  const { at = [] } = options;
  const readings = at.map((settings) => fit.predict(settings).reading);
  return {
    ...fitJson(fit, options),
    smallSample: fit.smallSample,
    deviance: fit.deviance,
    variances: fit.variances.map((part) => ({
      source: part.source,
      variance: part.variance,
      standardDeviation: part.standardDeviation,
      interval: ends(part.interval),
      share: part.share,
      shareInterval: ends(part.shareInterval),
      levels: part.levels,
    })),
    plainClaims: fit.plainClaims.map(({ factor, to, plainHalfWidth, plainDf, halfWidth, df }) => ({
      factor,
      to,
      plainHalfWidth,
      plainDf,
      halfWidth,
      df,
    })),
    ...(readings.some((reading) => reading !== null) ? { readings } : {}),
  };
}

function ends(value: VariancePart["interval"]): Ends {
  return isInterval(value) ? { low: value.low, high: value.high } : null;
}
