import { extent, tTwoSided } from "../../numerics/index.ts";
import type { Fit } from "../fit.ts";
import { settingsKey } from "../observe.ts";

/** How the scatter goes with the size of the response, and over what range of sizes. */
export interface GrowthOfScatter {
  /** sd ∝ size^slope; null where these runs can't show it. */
  readonly slope: number | null;
  /** The chance of such a slope where scatter does not go with size; null without a slope. */
  readonly p: number | null;
  /** Largest reading over the smallest. */
  readonly span: number;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/**
 * The slope of log scatter against log size, which is about 1 where scatter grows in proportion: between settings that were cut three times or more where at
 * least four were, else from the residuals. A guide to what to offer first, no more.
 */
export function growthOfScatter(fit: Fit): GrowthOfScatter {
  const [low, high] = extent(fit.rows.map(({ value }) => value));
  const span = high / low;
  const replicated = byReplicates(fit);
  const points = replicated.length >= 4 ? replicated : byResiduals(fit);
  if (points.length < 4) return { slope: null, p: null, span };
  const mean = (numbers: readonly number[]): number =>
    numbers.reduce((sum, value) => sum + value, 0) / numbers.length;
  const [x0, y0] = [mean(points.map(({ x }) => x)), mean(points.map(({ y }) => y))];
  const across = points.reduce((sum, { x }) => sum + (x - x0) ** 2, 0);
  if (!(across > 1e-9)) return { slope: null, p: null, span };
  const slope = points.reduce((sum, { x, y }) => sum + (x - x0) * (y - y0), 0) / across;
  const left = points.reduce((sum, { x, y }) => sum + (y - y0 - slope * (x - x0)) ** 2, 0);
  const df = points.length - 2;
  const error = Math.sqrt(left / df / across);
  return { slope, p: error > 0 ? tTwoSided(slope / error, df) : 1, span };
}

function byReplicates(fit: Fit): readonly Point[] {
  const cells = new Map<string, number[]>();
  for (const row of fit.rows) {
    const key = settingsKey(row.settings, row.block);
    cells.set(key, [...(cells.get(key) ?? []), row.value]);
  }
  return [...cells.values()]
    .filter((cell) => cell.length >= 3)
    .flatMap((cell) => {
      const centre = cell.reduce((sum, value) => sum + value, 0) / cell.length;
      const variance = cell.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (cell.length - 1);
      return variance > 0 ? [{ x: Math.log(centre), y: Math.log(variance) / 2 }] : [];
    });
}

function byResiduals(fit: Fit): readonly Point[] {
  return fit.rows
    .filter(
      ({ fitted, residual, leverage }) =>
        fitted > 0 && Math.abs(residual) > 1e-9 * fitted && (leverage ?? 0) < 0.999,
    )
    .map(({ fitted, residual, leverage }) => ({
      x: Math.log(fitted),
      y: Math.log(Math.abs(residual) / Math.sqrt(1 - (leverage ?? 0))),
    }));
}
