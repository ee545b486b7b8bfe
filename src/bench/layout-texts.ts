import type { Term } from "../model/index.ts";
import type { Factor } from "../trial/index.ts";
import { formatNumber } from "../units/index.ts";
import { effectsText } from "./effect-list.ts";

/** A layout of trial.json as the form holds it: each option as the text that a person would type. */
export function layoutTexts(
  { kind, ...options }: { readonly kind: string } & Readonly<Record<string, unknown>>,
  factors: readonly Factor[],
): { readonly kind: string; readonly options: Readonly<Record<string, string>> } {
  const texts = Object.entries(options).flatMap(([name, value]): [string, string][] => {
    if (value === undefined) return [];
    const text = optionText(value, factors);
    return text === null ? [] : [[name, text]];
  });
  return { kind, options: Object.fromEntries(texts) };
}

/** Null for what the form has no one line for. */
function optionText(value: unknown, factors: readonly Factor[]): string | null {
  if (typeof value === "string") return value;
  if (typeof value === "number") return Number.isInteger(value) ? String(value) : formatNumber(value);
  if (!Array.isArray(value)) return null;
  if (value.every((each) => typeof each === "string")) return value.join(", ");
  if (value.every((each) => typeof each === "number")) return value.join(" ");
  return value.every(isTerm) ? effectsText(value, factors) : null;
}

function isTerm(value: unknown): value is Term {
  return (
    typeof value === "object" &&
    value !== null &&
    !Array.isArray(value) &&
    Object.values(value).every((degree) => typeof degree === "number")
  );
}
