import type { Setting } from "../../trial/index.ts";
import type { Uncertain } from "../fit.ts";
import { isInterval } from "../words.ts";
import type { FloorFit } from "./floor-fit.ts";
import type { FloorPrediction } from "./predict-floor.ts";
import type { SeparatingPasses } from "./separating-passes.ts";

/** An estimate with its ends; where there is no interval the ends are null, with the reason. */
export interface JsonUncertain {
  readonly estimate: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly reason?: string;
}

/** A floor fit as JSON for machines; see `floorJson`. */
export interface FloorJson extends Pick<
  FloorFit,
  "form" | "law" | "converged" | "confidence" | "tells" | "residualSd" | "residualDf" | "sentences"
> {
  readonly model: "floor";
  readonly floor: JsonUncertain;
  readonly coefficient: JsonUncertain;
  readonly exponents: readonly ({ readonly factor: string } & JsonUncertain)[];
  /** Each level as a ratio to the first. */
  readonly levels: readonly ({
    readonly factor: string;
    readonly level: string;
    readonly against: string;
  } & JsonUncertain)[];
  /** The power law without a floor beside it; null where its parts can't be told apart. */
  readonly without: {
    readonly exponents: readonly ({ readonly factor: string } & JsonUncertain)[];
    readonly residualSd: number | null;
    readonly f: number | null;
    readonly p: number | null;
  } | null;
  /** The passes that would tell a floor from a smaller exponent. */
  readonly separating: SeparatingPasses | null;
  readonly notes: readonly string[];
  readonly predictions?: readonly Omit<FloorPrediction, "text">[];
}

/**
 * A floor fit as plain JSON: the law with its floor, coefficient and exponents, what can be told, and the passes that would tell more. Floor and coefficient are in the
 * response's unit; `at` adds predictions. Every number is a double in full; nothing is rounded.
 */
export function floorJson(
  fit: FloorFit,
  options: { readonly at?: readonly Readonly<Record<string, Setting>>[] } = {},
): FloorJson {
  const { at = [] } = options;
  const first = new Map(fit.observations.factors.map(({ name, levels }) => [name, levels[0]]));
  const exponents = (from: FloorFit["exponents"]): FloorJson["exponents"] =>
    from.map(({ factor, value }) => ({ factor, ...endsJson(value) }));
  return {
    model: "floor",
    form: fit.form,
    law: fit.law,
    converged: fit.converged,
    confidence: fit.confidence,
    tells: fit.tells,
    floor: endsJson(fit.floor),
    coefficient: endsJson(fit.coefficient),
    exponents: exponents(fit.exponents),
    levels: fit.levels.map(({ factor, level, ratio }) => ({
      factor,
      level,
      against: first.get(factor) ?? "",
      ...endsJson(ratio),
    })),
    residualSd: fit.residualSd,
    residualDf: fit.residualDf,
    without:
      fit.without === null
        ? null
        : {
            exponents: exponents(fit.without.exponents),
            residualSd: fit.without.residualSd,
            f: fit.without.f,
            p: fit.without.p,
          },
    separating: fit.separating,
    sentences: fit.sentences,
    notes: fit.observations.notes ?? [],
    ...(at.length === 0
      ? {}
      : {
          predictions: at.map((place) => {
            const { estimate, mean, single, extrapolation } = fit.predict(place);
            return { at: place, estimate, mean, single, extrapolation };
          }),
        }),
  };
}

function endsJson(value: Uncertain): JsonUncertain {
  return isInterval(value)
    ? { estimate: value.estimate, low: value.low, high: value.high }
    : { estimate: value.estimate, low: null, high: null, reason: value.reason };
}
