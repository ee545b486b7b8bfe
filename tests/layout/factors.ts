import type { CategoryFactor, QuantityFactor } from "../../src/trial/index.ts";

/** Invented factors that layout tests share. */
export const feed: QuantityFactor = {
  kind: "quantity",
  name: "feed",
  unit: "mm/rev",
  low: 0.08,
  high: 0.24,
  scale: "linear",
  change: "easy",
};

export const speed: QuantityFactor = {
  kind: "quantity",
  name: "speed",
  unit: "rev/min",
  low: 800,
  high: 1250,
  scale: "log",
  change: "easy",
};

export const edge: CategoryFactor = {
  kind: "category",
  name: "edge",
  levels: ["fresh", "used"],
  change: "easy",
};

export const coolant: CategoryFactor = {
  kind: "category",
  name: "coolant",
  levels: ["dry", "mist", "flood"],
  change: "easy",
};

/** So many quantities, coded −1 to +1. */
export function coded(count: number): readonly QuantityFactor[] {
  return Array.from({ length: count }, (_, index) => ({
    kind: "quantity" as const,
    name: String.fromCharCode(65 + index),
    unit: "1" as const,
    low: -1,
    high: 1,
    scale: "linear" as const,
    change: "easy" as const,
  }));
}
