import { seededRandom } from "../../numerics/index.ts";
import { hadamard } from "../algebra/hadamard.ts";
import type { DesignPoints } from "./design-state.ts";
import { largestDeterminant } from "./largest-determinant.ts";
import type { OptimalOptions } from "./options.ts";
import { emptyPoints } from "./search.ts";
import type { SearchModel } from "./search-model.ts";

/** Main effects of two-level factors: constructions that a search would have to find by luck. */
export function knownStart(
  model: SearchModel,
  runs: number,
  options: OptimalOptions,
): DesignPoints | undefined {
  const size = model.factors.length;
  const plain =
    options.blocks === 1 &&
    model.columnCount === size + 1 &&
    model.axes.every((axis) => axis.candidates.length === 2) &&
    model.prior.every((value) => value === 0);
  if (!plain) return undefined;
  const matrix =
    runs === size + 1 && options.criterion === "D"
      ? largestDeterminant(runs, seededRandom(options.seed))
      : runs > size && runs <= 256
        ? hadamard(runs)
        : undefined;
  if (!matrix) return undefined;
  const points = emptyPoints(runs * size);
  matrix.forEach((row, run) => {
    for (let factor = 0; factor < size; factor += 1) {
      const place = (row[factor + 1] ?? 1) * (row[0] ?? 1) > 0 ? 1 : 0;
      points.places[run * size + factor] = place;
      points.coordinates[run * size + factor] = model.axes[factor]?.candidates[place] ?? 0;
    }
  });
  return points;
}
