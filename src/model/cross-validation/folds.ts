import { seededRandom } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Observation } from "../observations.ts";

export interface FoldOptions {
  /**
   * What is left out at a time: "run" each run by itself with all of its readings; "block" each block; a number n: the runs are shared out by chance into n
   * parts. Never single readings. Default "run".
   */
  readonly leave?: "run" | "block" | number;
  /** Of the sharing out into parts. Default 1. */
  readonly seed?: number;
}

/** The part that each row belongs to, from 0, and how many parts there are. */
export function foldsOf(
  rows: readonly Observation[],
  { leave = "run", seed = 1 }: FoldOptions,
): { readonly of: Int32Array; readonly count: number } {
  const key = (row: Observation): number => (leave === "block" ? row.block : row.run);
  const units = [...new Set(rows.map(key))];
  if (leave !== "run" && leave !== "block" && !(Number.isInteger(leave) && leave >= 2))
    throw modelError(`${leave} parts to leave out`, '"run", "block" or a whole number from 2');
  const count = typeof leave === "number" ? leave : units.length;
  if (units.length < Math.max(2, count))
    throw modelError(
      `${units.length} ${leave === "block" ? "blocks" : "runs"} to leave out ${typeof leave === "number" ? `in ${count} parts` : "in turn"}`,
      `at least ${Math.max(2, count)}`,
    );
  const order = typeof leave === "number" ? seededRandom(seed).shuffle(units) : units;
  const part = new Map(order.map((unit, place) => [unit, place % count]));
  return { of: Int32Array.from(rows, (row) => part.get(key(row))!), count };
}
