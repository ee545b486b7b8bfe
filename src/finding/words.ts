import { formatNumber, formatQuantity, isUnit, quantity, readQuantity, pText } from "../units/index.ts";

/** "0.8 µm (31.5 µin)": in the unit it was given in, and for readers of the other system. */
export function inBothSystems(value: number, unit: string): string {
  return isUnit(unit) ? formatQuantity(quantity(value, unit), { system: "both" }) : `${value} ${unit}`.trim();
}

/** Text that an owner typed for a quantity, with the other system in brackets; words stay as they are. */
export function typedInBothSystems(text: string): string {
  const answer = readQuantity(text);
  return answer.kind === "value" ? formatQuantity(answer.value, { system: "both" }) : text;
}

/** A p value to two significant digits; null stays. */
export function pTextOrNull(p: number | null): string | null {
  return p === null ? null : pText(p);
}

/** A number to `digits` significant digits. */
export function digitsOf(value: number, digits: number): string {
  return formatNumber(value, { digits });
}

export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
