import { refitter, seededRandom, type Refitter } from "../../numerics/index.ts";
import { BLOCK, type DrawnBlock } from "./drawn-block.ts";

/** All that permutations need: numbers only, so that they cross to another thread. */
export interface PermutationOrder {
  readonly kind: "permutation";
  readonly columns: readonly Float64Array[];
  /** The columns that stay when what is tested is left out. */
  readonly reduced: readonly number[];
  readonly response: Float64Array;
  /** Rows that may change places with one another. */
  readonly strata: readonly Int32Array[];
  readonly draws: number;
  readonly seed: number;
  /** True where draw k is the k-th of all orders there are. */
  readonly everyOrder: boolean;
}

/** The share of what is left without the terms tested that they explain: it rises with F, and stands where F would be infinite. */
export function shareExplained(reduced: Refitter, full: Refitter, response: Float64Array): number {
  const without = reduced.refit(response).residualSumOfSquares;
  return without > 0 ? 1 - full.refit(response).residualSumOfSquares / without : 0;
}

/**
 * Makes a block of permutations. The residuals of the model without the terms tested change places, are laid on its fitted values, and meet both models
 * (Freedman and Lane 1983, Journal of Business and Economic Statistics 1, 292–298).
 */
export function permutationMaker(order: PermutationOrder): (block: number) => DrawnBlock {
  const { columns, reduced, response, strata, draws, seed, everyOrder } = order;
  const full = refitter(columns.map((high) => ({ high })));
  const less = refitter(reduced.map((k) => ({ high: columns[k] })));
  const { fitted, residuals } = splitBy(reduced, columns, less, response);
  const made = Float64Array.from(response);
  const values = (count: number, arrange: (k: number, places: Int32Array[]) => void): Float64Array =>
    Float64Array.from({ length: count }, (_, k) => {
      const places = strata.map((rows) => Int32Array.from(rows));
      arrange(k, places);
      strata.forEach((rows, s) => {
        for (let i = 0; i < rows.length; i++) made[rows[i]] = fitted[rows[i]] + residuals[places[s][i]];
      });
      return shareExplained(less, full, made);
    });
  return (block) => {
    const first = block * BLOCK;
    const count = Math.min(BLOCK, draws - first);
    const random = everyOrder ? null : seededRandom(seed, { stream: block });
    const shares = values(count, (k, places) => {
      let number = first + k;
      for (const place of places) {
        for (let last = place.length - 1; last > 0; last--) {
          const chosen = random === null ? number % (last + 1) : random.integer(last + 1);
          if (random === null) number = Math.floor(number / (last + 1));
          [place[last], place[chosen]] = [place[chosen], place[last]];
        }
      }
    });
    return { values: shares, made: count, again: 0 };
  };
}

function splitBy(
  reduced: readonly number[],
  columns: readonly Float64Array[],
  { refit, kept }: Refitter,
  response: Float64Array,
): { readonly fitted: Float64Array; readonly residuals: Float64Array } {
  const { coefficients } = refit(response);
  const fitted = new Float64Array(response.length);
  kept.forEach((place, k) => {
    const column = columns[reduced[place]];
    for (let i = 0; i < fitted.length; i++) fitted[i] += coefficients[k] * column[i];
  });
  return { fitted, residuals: response.map((value, i) => value - fitted[i]) };
}
