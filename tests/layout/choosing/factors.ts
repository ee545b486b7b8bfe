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

/** So many quantities, easy to change. */
export function quantities(count: number): readonly Factor[] {
  return names.slice(0, count).map((name) => ({
    kind: "quantity",
    name,
    unit: "mm",
    low: 1,
    high: 3,
    scale: "linear",
    change: "easy",
  }));
}
