import {
  interactionPoints,
  linearColumns,
  projectivePoints,
  type ArrayColumns,
  type Point,
} from "./linear-array.ts";

/** Steps after which an assignment is given up; the spaces are small, so that one that exists is found long before. */
const MOST_STEPS = 200_000;

/**
 * Points for factors such that the interactions named (pairs of places) fall on no factor and on no other of them; undefined
 * where that can't be had. Backtracking, in the order of the factors.
 */
export function assignClear(
  space: { readonly levels: number; readonly dimension: number },
  factors: number,
  interactions: readonly (readonly [number, number])[],
): ArrayColumns | undefined {
  const points = projectivePoints(space.levels, space.dimension);
  let steps = 0;
  const fits = (chosen: readonly Point[]) => {
    const used = chosen.map((point) => point.join());
    for (const [one, other] of interactions) {
      const [first, second] = [chosen[one], chosen[other]];
      if (first && second)
        used.push(...interactionPoints(space.levels, first, second).map((point) => point.join()));
    }
    return new Set(used).size === used.length;
  };
  const search = (chosen: readonly Point[]): readonly Point[] | undefined => {
    if (chosen.length === factors) return chosen;
    for (const point of points) {
      steps += 1;
      if (steps > MOST_STEPS) return undefined;
      const more = [...chosen, point];
      const found = fits(more) ? search(more) : undefined;
      if (found) return found;
    }
    return undefined;
  };
  const found = search([]);
  return found && linearColumns(space.levels, space.dimension, found);
}
