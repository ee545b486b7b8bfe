import type { Factor } from "../../../src/trial/index.ts";

const names = [
  "feed",
  "speed",
  "depth",
  "lead",
  "overhang",
  "flow",
  "angle",
  "radius",
  "pitch",
  "land",
  "rake",
  "dwell",
];

function quantity(name: string): Factor {
  return { kind: "quantity", name, unit: "mm", low: 1, high: 3, scale: "linear", change: "easy" };
}

/** So many quantities, easy to change. */
export function quantities(count: number): readonly Factor[] {
  return names.slice(0, count).map(quantity);
}

/** A category of so many levels. */
export function category(name: string, levels: number, change: "easy" | "hard" = "easy"): Factor {
  return {
    kind: "category",
    name,
    levels: Array.from({ length: levels }, (_, level) => `${name} ${level + 1}`),
    change,
  };
}
