import { dimensionOf, formatNumber, isUnit, unitNames, type UnitName } from "../units/index.ts";
import { inUnitOf } from "./number-field.ts";

/** One way in which a value may have been typed wrongly: what it becomes when mended. */
export interface Slip {
  /** The factor by which the value is off. */
  readonly factor: number;
  readonly value: number;
  readonly unit: string;
  /** How to type it: "31 µin". */
  readonly text: string;
  /** The mended value in the response's unit. */
  readonly inResponseUnit: number;
}

/** Beyond this the units are never confused: nobody types miles for micrometres. */
const widest = 1e5;

/**
 * The slips that a value may hold: the number belongs to another unit of the dimension (µin read as µm is 39.37 times off,
 * mm for inch 25.4), it was multiplied or divided by 25.4 or 39.37 by hand, or the decimal point stands one or two places off.
 */
export function slipsOf(value: number, unit: UnitName, responseUnit: UnitName): readonly Slip[] {
  const other = unitNames.filter(
    (name) => name !== unit && dimensionOf(name) === dimensionOf(unit) && isCommon(name),
  );
  const asOther = other.flatMap((name): readonly Slip[] => {
    const mended = inUnitOf(value, name, responseUnit);
    const factor = inUnitOf(value, unit, responseUnit) / mended;
    const near = factor > 1 / widest && factor < widest && factor !== 1;
    return near
      ? [{ factor, value, unit: name, text: `${plain(value)} ${name}`, inResponseUnit: mended }]
      : [];
  });
  const byHand = [25.4, 1 / 25.4, 1 / 0.0254, 0.0254, 10, 0.1, 100, 0.01].flatMap(
    (factor): readonly Slip[] => {
      if (asOther.some((slip) => Math.abs(Math.log(slip.factor / factor)) < 0.01)) return [];
      const mended = Number((value / factor).toPrecision(12));
      return [
        {
          factor,
          value: mended,
          unit,
          text: `${plain(mended)} ${unit}`,
          inResponseUnit: inUnitOf(mended, unit, responseUnit),
        },
      ];
    },
  );
  return [...asOther, ...byHand];
}

function isCommon(name: string): boolean {
  return isUnit(name) && !["cm", "m", "ft", "K", "°F", "°C"].includes(name);
}

/** In digits that can be typed again. */
function plain(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** "about 39 times", "about 1/25 of". */
export function timesText(ratio: number): string {
  return ratio >= 1
    ? `about ${formatNumber(ratio, { digits: 2 })} times`
    : `about 1/${formatNumber(1 / ratio, { digits: 2 })} of`;
}
