import { refitter, seededRandom } from "../../numerics/index.ts";
import { BLOCK, type DrawnBlock } from "./drawn-block.ts";

/** All that the draws of a bootstrap need: numbers only, so that they cross to another thread. */
export interface BootstrapOrder {
  readonly kind: "bootstrap";
  readonly by: "residuals" | "runs";
  /** The columns of the model, one list a column. */
  readonly columns: readonly Float64Array[];
  readonly response: Float64Array;
  readonly fitted: Float64Array;
  readonly weights: Float64Array | null;
  /** Residuals that may be drawn, brought to the scatter of one row of weight 1 and to a mean of 0. */
  readonly pool: Float64Array;
  /** The place of each row's run among the runs. */
  readonly runOf: Int32Array;
  /** Runs that are drawn among themselves: those of one block, where blocks were fitted. */
  readonly strata: readonly Int32Array[];
  /** What is told of each draw: combinations of the coefficients. */
  readonly targets: readonly Float64Array[];
  readonly draws: number;
  readonly seed: number;
}

/** So many times as many draws are tried before it is said that most of them can't tell the terms apart. */
const patience = 4;

/** Makes the draws of a block, from a stream of chance of its own: for each draw the value of each target. */
export function bootstrapMaker(order: BootstrapOrder): (block: number) => DrawnBlock {
  const { by, columns, response, fitted, weights, pool, runOf, strata, targets, draws, seed } = order;
  const { refit, reweigh } = refitter(
    columns.map((high) => ({ high })),
    weights === null ? {} : { weights },
  );
  const rows = response.length;
  const spread = Float64Array.from(fitted, (_, i) =>
    weights === null ? 1 : weights[i] > 0 ? 1 / Math.sqrt(weights[i]) : 0,
  );
  const drawnResponse = new Float64Array(rows);
  const counts = new Float64Array(runOf.reduce((most, run) => Math.max(most, run), -1) + 1);
  const drawnWeights = new Float64Array(rows);
  return (block) => {
    const random = seededRandom(seed, { stream: block });
    const wanted = Math.min(BLOCK, draws - block * BLOCK);
    const values = new Float64Array(wanted * targets.length);
    let made = 0;
    let again = 0;
    while (made < wanted && again < patience * wanted) {
      let coefficients: Float64Array | undefined;
      if (by === "residuals") {
        for (let i = 0; i < rows; i++)
          drawnResponse[i] = fitted[i] + spread[i] * pool[random.integer(pool.length)];
        coefficients = refit(drawnResponse).coefficients;
      } else {
        counts.fill(0);
        for (const runs of strata)
          for (let k = 0; k < runs.length; k++) counts[runs[random.integer(runs.length)]] += 1;
        for (let i = 0; i < rows; i++) drawnWeights[i] = counts[runOf[i]];
        coefficients = reweigh(response, drawnWeights)?.coefficients;
      }
      if (coefficients === undefined) {
        again++;
        continue;
      }
      for (let t = 0; t < targets.length; t++) {
        let value = 0;
        for (let k = 0; k < coefficients.length; k++) value += targets[t][k] * coefficients[k];
        values[made * targets.length + t] = value;
      }
      made++;
    }
    return { values: values.subarray(0, made * targets.length).slice(), made, again };
  };
}
