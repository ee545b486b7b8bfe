import { convert, dimensionOf, isUnit, readQuantity, readUnit, type UnitName } from "../units/index.ts";
import { quoted, storeError, type Place } from "./error.ts";
import { numberInOwnCell, numberText, type DecimalSign } from "./number-cell.ts";

/** A number that was typed, with its unit, and its text where a program would write the number otherwise. */
export interface TypedNumber {
  readonly value: number;
  readonly unit: UnitName;
  readonly text?: string;
}

/**
 * A number and its unit from two cells. The unit may stand behind the number instead ("31 µin"), and then must not
 * contradict the unit's own cell. `like` is a unit of the expected dimension.
 */
export function typedNumber(
  cell: string,
  unitCell: string,
  like: UnitName,
  decimal: DecimalSign,
  place: Place,
): TypedNumber {
  const text = cell.trim();
  if (text === "")
    throw storeError(
      place,
      `the number is missing; expected a number of ${like}. Fill the cell, or remove the row.`,
    );
  const unit = unitCell.trim() === "" ? null : knownUnit(unitCell, like, place);
  const value = numberInOwnCell(text, decimal);
  if (typeof value === "number") {
    if (unit === null)
      throw storeError(
        { ...place, field: "unit" },
        `the unit is missing; expected one such as ${like}. Write it in its cell.`,
      );
    return { value, unit, ...kept(text, value, decimal) };
  }
  const answer = readQuantity(text, unit === null ? { dimension: dimensionOf(like) } : { unit });
  if (answer.kind !== "value")
    throw storeError(place, answer.kind === "question" ? answer.question : answer.message);
  const { value: number, unit: typed } = answer.value;
  if (unit !== null && unit !== typed) {
    throw storeError(
      place,
      `got ${quoted(text)} and the unit ${unit} in its own cell; expected one unit. Mend one of the two.`,
    );
  }
  return { value: number, unit: typed };
}

/** A unit as typed, of the same dimension as `like`. */
export function knownUnit(text: string, like: UnitName, place: Place): UnitName {
  if (isUnit(text) && dimensionOf(text) === dimensionOf(like)) return text;
  const answer = readUnit(text);
  const field = { ...place, field: "unit" };
  if (answer.kind !== "value")
    throw storeError(field, answer.kind === "question" ? answer.question : answer.message);
  if (dimensionOf(answer.value) === dimensionOf(like)) return answer.value;
  throw storeError(
    field,
    `got ${answer.value}, which measures ${dimensionOf(answer.value)}; expected a unit of ${dimensionOf(like)} such as ${like}.`,
  );
}

/**
 * The typed digits, where they are not how a program would write the number ("0.80"). They are kept with a decimal point:
 * each file shows its own sign.
 */
export function kept(text: string, value: number, decimal: DecimalSign): { readonly text?: string } {
  const pointed = decimal === "comma" && !text.includes(".") ? text.replace(",", ".") : text;
  return pointed === numberText(value, "point") ? {} : { text: pointed };
}

/** A number in another unit; both are known to be of one dimension. */
export function inUnitOf(value: number, from: UnitName, to: UnitName): number {
  return from === to ? value : convert<UnitName>(value, from, to);
}
