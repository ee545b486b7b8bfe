import type { Factor, Setting, Settings } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";

/** Low and high of a quantity, or the two levels of a category; refused where a category has more. */
export function twoLevelsOf(kind: string, factor: Factor): readonly [Setting, Setting] {
  if (factor.kind === "quantity") return [factor.low, factor.high];
  const [first, second] = factor.levels;
  if (factor.levels.length === 2 && first !== undefined && second !== undefined) return [first, second];
  throw new LayoutError(
    `layout "${kind}": ${factor.name} has ${factor.levels.length} levels, and this kind takes two. Leave out ${factor.levels.length - 2} of them, or use "orthogonal-array", "factorial" or "optimal".`,
  );
}

/** Settings of a row of −1 and +1. */
export function twoLevelSettings(kind: string, factors: readonly Factor[], row: readonly number[]): Settings {
  return Object.fromEntries(
    factors.map((factor, index) => {
      const [low, high] = twoLevelsOf(kind, factor);
      return [factor.name, (row[index] ?? 0) > 0 ? high : low];
    }),
  );
}

/** Says which stated levels a two-level kind does not cut. */
export function leftOutLevels(factors: readonly Factor[]): readonly string[] {
  return factors.flatMap((factor) =>
    factor.kind === "quantity" && factor.levels && factor.levels.length > 2
      ? [
          `${factor.name} is cut at ${factor.low} and ${factor.high} ${factor.unit} only; its levels between are left out.`,
        ]
      : [],
  );
}
