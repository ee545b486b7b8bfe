import type { ReducedSystem } from "./reduced-system.ts";

/** Scatter that no fixed column and no source explains, each source's levels taken as they are. */
export interface WithinScatter {
  readonly df: number;
  /** In the units of the normalised response. */
  readonly sumOfSquares: number;
}

/** A column whose rest is below this share of its length lies within those before it. */
const spanned = 1e-10;

/** What is left within the levels of all sources: the residual line of an analysis by strata. */
export function withinScatter({ within, d, rows, nodes }: ReducedSystem): WithinScatter {
  const left = within.slice();
  let rank = 0;
  for (let j = 0; j < d - 1; j++) {
    const pivot = left[j * d + j];
    // Directions have length 1, crossed levels at least that.
    if (!(pivot > spanned)) continue;
    rank++;
    for (let a = j + 1; a < d; a++) {
      const by = left[j * d + a] / pivot;
      if (by !== 0) for (let b = a; b < d; b++) left[a * d + b] -= by * left[j * d + b];
    }
  }
  return { df: rows - nodes[0] - rank, sumOfSquares: Math.max(0, left[d * d - 1]) };
}
