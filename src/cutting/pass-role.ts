import { dimensionOf } from "../units/index.ts";
import type { UnitName } from "../units/index.ts";

/** What a stated quantity is to a pass, with the unit in which it is reckoned. */
export const roleUnits = {
  spindleSpeed: "rev/min",
  surfaceSpeed: "m/min",
  feedPerRev: "mm/rev",
  feedPerTooth: "mm/tooth",
  feedSpeed: "mm/min",
  depth: "mm",
  width: "mm",
  diameter: "mm",
  noseRadius: "mm",
  length: "mm",
  approach: "mm",
  overtravel: "mm",
} as const satisfies Readonly<Record<string, UnitName>>;

export type PassRole = keyof typeof roleUnits;

const lengthNames: readonly (readonly [RegExp, PassRole])[] = [
  [/nose|corner radius/, "noseRadius"],
  [/diameter/, "diameter"],
  [/depth|^a ?p$/, "depth"],
  [/width|step ?over|^a ?e$/, "width"],
  [/^approach/, "approach"],
  [/^over ?travel/, "overtravel"],
  [/^(pass |cut )?length( of (cut|pass))?$/, "length"],
];

/**
 * What a quantity of this name and unit is to a pass; null where it is nothing to it. Feeds and spindle speeds are known by
 * their dimension. A speed is a surface speed in m/min, m/s and ft/min and a feed speed in mm/min, mm/s, in/min and in/s, as
 * shops write them, unless the name says which. Lengths are known by name. A limit ("max speed") is not what is cut with.
 */
export function passRole(name: string, unit: UnitName): PassRole | null {
  const words = name
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replace(/[_-]+/g, " ")
    .toLowerCase()
    .trim();
  if (/\b(max|maximum|minimum|limit|largest|highest)\b/.test(words)) return null;
  switch (dimensionOf(unit)) {
    case "spindle speed":
      return "spindleSpeed";
    case "feed per revolution":
      return "feedPerRev";
    case "feed per tooth":
      return "feedPerTooth";
    case "speed":
      if (/feed|table/.test(words)) return "feedSpeed";
      if (/surface|cutting|rim/.test(words)) return "surfaceSpeed";
      return unit === "m/min" || unit === "m/s" || unit === "ft/min" ? "surfaceSpeed" : "feedSpeed";
    case "length":
      return lengthNames.find(([pattern]) => pattern.test(words))?.[1] ?? null;
    default:
      return null;
  }
}
