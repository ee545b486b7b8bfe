import { figureError } from "./error.ts";
import { convert, isUnit, unitIn, withUnit as spaced, type UnitName } from "../units/index.ts";

/** Which system of units a reader wants first. */
export type Display = "metric" | "inch";

/** How the values of one quantity are shown: in the reader's unit, with the other system's unit for a second scale. */
export interface Shown {
  readonly unit: string;
  /** From the data's unit to the shown one. */
  readonly value: (given: number) => number;
  /** Null where both systems use the same unit, or the unit is not a known one. */
  readonly second: {
    readonly unit: string;
    readonly there: (shown: number) => number;
    readonly back: (second: number) => number;
  } | null;
}

/** The unit of a quantity for a reader's system; a unit that is not known stays as it was written, without a second scale. */
export function shownIn(unit: string, display: Display): Shown {
  if (unit === "1" || unit === "as given") return { unit: "", value: (given) => given, second: null };
  if (!isUnit(unit)) return { unit, value: (given) => given, second: null };
  const first = unitIn(unit, display);
  const other = unitIn(unit, display === "metric" ? "inch" : "metric");
  return {
    unit: first,
    value: converter(unit, first),
    second:
      other === first ? null : { unit: other, there: converter(first, other), back: converter(other, first) },
  };
}

function converter(from: UnitName, to: UnitName): (value: number) => number {
  return (value) => {
    if (Number.isFinite(value)) return from === to ? value : convert(value, from, to);
    throw figureError({
      given: `a value in ${from} that is ${Number.isNaN(value) ? "no number" : "beyond the largest number"}`,
      expected: "readings within fewer powers of ten",
      mend: "Look at the units of the readings, and draw again.",
    });
  };
}

/** "Ra [µm]": a heading of a table. */
export function heading(name: string, unit: string): string {
  return unit === "" ? name : `${name} [${unit}]`;
}

/** "0.12 mm/rev": a number's text with its unit. */
export function withUnit(text: string, unit: string): string {
  if (unit === "") return text;
  return isUnit(unit) ? spaced(text, unit) : `${text} ${unit}`;
}
