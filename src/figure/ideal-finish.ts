import { idealHeight, idealRa } from "../cutting/index.ts";
import {
  convert,
  dimensionOf,
  formatNumber,
  isUnit,
  parseQuantity,
  valueIn,
  type UnitName,
} from "../units/index.ts";
import type { ObservedFactor } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";

/** The finish that feed and nose radius alone would leave, in the units of the data. */
export interface IdealFinish {
  readonly noseRadiusMm: number;
  /** "ideal for nose radius 0.8 mm". */
  readonly label: string;
  /** Null where feed is too large for the nose arc, or not above zero. */
  readonly at: (feed: number) => number | null;
}

/**
 * The ideal finish along a feed, where it means something: the response is Ra, Rt or Rz, the factor is a feed per
 * revolution (or per tooth: each tooth then leaves its own cusp), and the tool has a nose radius and no wiper flat.
 */
export function idealFinish(options: {
  readonly response: { readonly name: string; readonly unit: string };
  readonly factor: ObservedFactor;
  readonly noseRadiusMm: number | undefined;
  readonly trial: Trial | undefined;
}): IdealFinish | null {
  const { response, factor, trial } = options;
  const noseRadiusMm = options.noseRadiusMm ?? noseRadiusOf(trial);
  const unit = factor.unit;
  const feedUnit = isUnit(unit) ? feedPerPass(unit) : null;
  if (
    noseRadiusMm === null ||
    feedUnit === null ||
    !isUnit(response.unit) ||
    dimensionOf(response.unit) !== "length"
  )
    return null;
  const height = heightNamed(response.name);
  if (height === null) return null;
  const to = response.unit;
  // At a feed per revolution a cutter of several teeth comes out so only where one of them stands highest.
  const severalTeeth =
    feedUnit === "mm/rev" && (trial?.spec.cutter?.teeth ?? 1) > 1 && trial?.spec.pass?.kind !== "turning";
  return {
    noseRadiusMm,
    label: `ideal for nose radius ${formatNumber(noseRadiusMm)} mm${severalTeeth ? ", one tooth ruling" : ""}`,
    at: (feed) => {
      const feedMm = convert(feed, unit as UnitName, feedUnit);
      // Past the nose arc (feed of two radii) the cusp formula has no meaning.
      if (!(feedMm > 0) || feedMm >= 2 * noseRadiusMm) return null;
      return convert<UnitName>(height(feedMm, noseRadiusMm), "µm", to);
    },
  };
}

function feedPerPass(unit: UnitName): UnitName | null {
  const dimension = dimensionOf(unit);
  if (dimension === "feed per revolution") return "mm/rev";
  return dimension === "feed per tooth" ? "mm/tooth" : null;
}

function heightNamed(name: string): ((feedMm: number, noseRadiusMm: number) => number) | null {
  if (/^Ra\b/u.test(name)) return (feedMm, noseRadiusMm) => idealRa(feedMm, noseRadiusMm);
  return /^R[tz]\b/u.test(name) ? (feedMm, noseRadiusMm) => idealHeight(feedMm, noseRadiusMm) : null;
}

function noseRadiusOf(trial: Trial | undefined): number | null {
  const cutter = trial?.spec.cutter;
  // A wiper flat wipes the cusp away: no ideal curve can be drawn from the nose radius.
  if (cutter?.noseRadius === undefined || cutter.wiper !== undefined) return null;
  return valueIn(parseQuantity(cutter.noseRadius, { dimension: "length" }), "mm");
}
