import { withUnit } from "../units/index.ts";
import type { CategoryFactor, Factor, QuantityFactor, Setting, Settings } from "../trial/index.ts";
import { codedValue, naturalValue } from "../trial/index.ts";
import { MOST_RUNS } from "./common-options.ts";
import { LayoutError } from "./error.ts";

/** Layouts are computed in doubles; 12 figures hide the last-digit noise of 0.08 + 2 × 0.04 and keep every setting a machine can take. */
const SETTING_DIGITS = 12;

export function tidied(value: number): number {
  return Number(value.toPrecision(SETTING_DIGITS));
}

export function isQuantity(factor: Factor): factor is QuantityFactor {
  return factor.kind === "quantity";
}

export function quantitiesOf(factors: readonly Factor[]): readonly QuantityFactor[] {
  return factors.filter(isQuantity);
}

export function categoriesOf(factors: readonly Factor[]): readonly CategoryFactor[] {
  return factors.filter((factor): factor is CategoryFactor => factor.kind === "category");
}

/** The setting at a coded place (−1 low, 0 middle, +1 high on the factor's own scale), before rounding to the increment. */
export function settingAt(factor: QuantityFactor, coded: number): number {
  if (coded === -1) return factor.low;
  if (coded === 1) return factor.high;
  return tidied(naturalValue(factor, coded));
}

/** `count` settings from low to high, evenly or in ratio spaced. */
export function spacedLevels(
  factor: QuantityFactor,
  count: number,
  spacing: "even" | "ratio",
): readonly number[] {
  if (spacing === "ratio" && factor.low <= 0) {
    throw new LayoutError(
      `${factor.name}: levels in ratio need a low above zero, got ${factor.low} ${factor.unit}. Use even spacing or raise the low.`,
    );
  }
  return Array.from({ length: count }, (_, index) => {
    if (index === 0) return factor.low;
    if (index === count - 1) return factor.high;
    const share = index / (count - 1);
    return tidied(
      spacing === "ratio"
        ? factor.low * (factor.high / factor.low) ** share
        : factor.low + share * (factor.high - factor.low),
    );
  });
}

/** The spacing that a factor's own scale asks for. */
export function spacingOf(factor: QuantityFactor): "even" | "ratio" {
  return factor.scale === "log" ? "ratio" : "even";
}

/** The settings that a factor is cut at: as given, or `count` over its range. */
export function levelsOf(factor: Factor, count: number): readonly Setting[] {
  if (factor.kind === "category") return factor.levels;
  return factor.levels ?? spacedLevels(factor, count, spacingOf(factor));
}

/** Coded middle for quantities; categories stand at the level given, else at their first. */
export function middleSettings(factors: readonly Factor[], categories: Settings = {}): Settings {
  return Object.fromEntries(
    factors.map((factor) => [
      factor.name,
      factor.kind === "category" ? (categories[factor.name] ?? factor.levels[0] ?? "") : settingAt(factor, 0),
    ]),
  );
}

/** Every combination of the given lists, the first varying fastest (standard order). */
export function combinations<Item>(lists: readonly (readonly Item[])[]): readonly (readonly Item[])[] {
  let rows: readonly (readonly Item[])[] = [[]];
  for (const list of lists) rows = list.flatMap((item) => rows.map((row) => [...row, item]));
  return rows;
}

/** Every combination of the categories' levels, as partial settings; one empty combination where there are none. */
export function categoryCombinations(factors: readonly Factor[]): readonly Settings[] {
  const categories = categoriesOf(factors);
  const count = categories.reduce((product, factor) => product * factor.levels.length, 1);
  if (count > MOST_RUNS) {
    throw new LayoutError(
      `layout: the categories have ${count.toLocaleString("en")} combinations, too many to cut something at each. Take fewer categories or levels, or no centre points.`,
    );
  }
  return combinations(categories.map((factor) => factor.levels)).map((row) =>
    Object.fromEntries(categories.map((factor, index) => [factor.name, row[index] ?? ""])),
  );
}

/** True where two settings are the same to the machine: equal names, or numbers equal to the figures that are kept. */
export function sameSetting(one: Setting | undefined, other: Setting | undefined): boolean {
  if (typeof one === "number" && typeof other === "number") return tidied(one) === tidied(other);
  return one === other;
}

/** A key that is equal for equal settings, for counting replicates. */
export function settingsKey(factors: readonly Factor[], settings: Settings): string {
  return factors
    .map((factor) => {
      const setting = settings[factor.name];
      return typeof setting === "number" ? String(tidied(setting)) : String(setting);
    })
    .join("\u0000");
}

/** The nearest setting that the machine can take inside low..high; unchanged where no increment is stated. */
export function settable(factor: QuantityFactor, value: number): number {
  const { increment, low, high } = factor;
  if (increment === undefined) return value;
  // A hundred-millionth of a step forgives the last digits of a division such as 0.3 / 0.1.
  const slack = 1e-8;
  const first = Math.ceil(low / increment - slack);
  const last = Math.floor(high / increment + slack);
  const outside = value < low - slack * increment || value > high + slack * increment;
  if (last < first) {
    throw new LayoutError(
      `${factor.name}: no multiple of the increment ${increment} ${factor.unit} lies between ${low} and ${high} ${factor.unit}. Make the increment smaller or the range wider.`,
    );
  }
  const steps = Math.round(value / increment);
  return tidied((outside ? steps : Math.min(Math.max(steps, first), last)) * increment);
}

/** Coded place of a setting; categories have none. */
export function codedSetting(factor: QuantityFactor, setting: Setting | undefined): number {
  if (typeof setting !== "number" || !Number.isFinite(setting)) {
    throw new LayoutError(
      `${factor.name}: expected a number in ${factor.unit}, got ${JSON.stringify(setting)}.`,
    );
  }
  return codedValue(factor, setting);
}

/** A setting in words, with its unit; six digits are more than any machine sets, and a ratio's further ones mean nothing. */
export function settingWords(factor: Factor, setting: Setting): string {
  return factor.kind === "quantity"
    ? withUnit(String(Number(Number(setting).toPrecision(6))), factor.unit)
    : String(setting);
}
