import { numericsError } from "./error.ts";

/** Refuses NaN; the infinities have tails. */
export function requireNumber(name: string, value: number): void {
  if (Number.isNaN(value)) throw numericsError(`${name} is NaN`, "a number");
}

export function requireProbability(name: string, value: number): void {
  if (!(value > 0 && value < 1))
    throw numericsError(`${name} is ${value}`, "a number between 0 and 1, both excluded");
}

export function requirePositive(name: string, value: number): void {
  if (!(value > 0)) throw numericsError(`${name} is ${value}`, "a number above 0");
}
