import { converted, convertDifference } from "./convert.ts";
import { formatNumber } from "./format-number.ts";
import type { NumberFormatOptions } from "./format-number.ts";
import type { Quantity } from "./quantity.ts";
import { unitIn, unitInOtherSystem } from "./system.ts";
import type { UnitSystem } from "./system.ts";
import type { UnitName } from "./unit-table.ts";

export interface QuantityFormatOptions extends NumberFormatOptions {
  /** `both` shows the quantity as it was given, and the other system in brackets. Default: the unit that it was given in. */
  readonly system?: UnitSystem | "both";
}

/**
 * A quantity for people to read, in one system or in both; units that both systems share are shown once. `uncertainty` is
 * in the quantity's own unit. Digits as by `formatNumber`.
 *
 * @example formatQuantity(quantity(0.8, "µm"), { system: "both" }) // "0.8 µm (31.5 µin)"
 */
export function formatQuantity(q: Quantity, { system, ...digits }: QuantityFormatOptions = {}): string {
  if (system !== "both") return shownIn(q, system === undefined ? q.unit : unitIn(q.unit, system), digits);
  const other = unitInOtherSystem(q.unit);
  const asGiven = shownIn(q, q.unit, digits);
  return other === q.unit ? asGiven : `${asGiven} (${shownIn(q, other, digits)})`;
}

/**
 * A number that has been formatted, with its unit: a space before the unit, none before the degree sign, nothing for the
 * unit 1.
 *
 * @example withUnit("45", "°") // "45°"
 */
export function withUnit(number: string, unit: UnitName): string {
  if (unit === "1") return number;
  return unit === "°" ? `${number}°` : `${number} ${unit}`;
}

function shownIn(q: Quantity, unit: UnitName, { uncertainty, ...digits }: NumberFormatOptions): string {
  // Not through `valueIn`: a page may show a value that could not be computed, and shows a dash for it.
  const value = Number.isFinite(q.value) ? converted(q.value, q.unit, unit) : q.value;
  const spread =
    uncertainty !== undefined && Number.isFinite(uncertainty)
      ? { uncertainty: convertDifference(uncertainty, q.unit, unit) }
      : {};
  return withUnit(formatNumber(value, { ...digits, ...spread }), unit);
}
