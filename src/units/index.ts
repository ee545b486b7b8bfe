// Quantities with units, exact conversions, what people type, and how numbers are shown.
export type { Dimension, DimensionOf, UnitName, UnitOf } from "./unit-table.ts";
export { dimensionOf, isUnit, unitNames } from "./unit-table.ts";

export type { Quantity } from "./quantity.ts";
export { add, compare, inUnit, quantity, subtract, times, valueIn } from "./arithmetic.ts";
export { convert, convertDifference } from "./convert.ts";

export type { NumberTextOptions } from "./number-text.ts";
export { parseNumber, readNumber } from "./number-text.ts";
export { parseUnit, readUnit } from "./unit-text.ts";
export type { QuantityTextOptions } from "./quantity-text.ts";
export { parseQuantity, readQuantity } from "./quantity-text.ts";

export type { NumberFormatOptions } from "./format-number.ts";
export { formatNumber } from "./format-number.ts";
export { differenceUnit } from "./difference-unit.ts";
export { listed } from "./listed.ts";
export { pText } from "./p-text.ts";

export type { QuantityFormatOptions } from "./format-quantity.ts";
export { formatQuantity, withUnit } from "./format-quantity.ts";
export type { UnitSystem } from "./system.ts";
export { unitIn } from "./system.ts";

export type { Answer, Choice, UnitErrorReason } from "./error.ts";
export { UnitError } from "./error.ts";
