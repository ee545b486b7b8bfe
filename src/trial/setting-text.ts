import { formatQuantity, quantity } from "../units/index.ts";
import type { Factor, Setting } from "./factor.ts";

/**
 * A setting as people read it: "0.16 mm/rev", in the other system or in both; for a category the level's name.
 *
 * @example settingText(feed, 0.254, "inch") // "0.01 in/rev"
 */
export function settingText(factor: Factor, setting: Setting, system: "metric" | "inch" | "both"): string {
  if (factor.kind === "category" || typeof setting === "string") return String(setting);
  return formatQuantity(quantity(setting, factor.unit), { system });
}
