import { readQuantity, type Quantity } from "../units/index.ts";
import type { TrialSpec } from "./trial.ts";

/**
 * A quantity that stays still in the trial; null where nothing of the name is held, or where what is held is words
 * ("flood").
 *
 * @example heldQuantity(spec, "depth") // { value: 0.1, unit: "mm", dimension: "length" }
 */
export function heldQuantity(spec: Pick<TrialSpec, "held">, name: string): Quantity | null {
  const text = Object.hasOwn(spec.held, name) ? spec.held[name] : undefined;
  if (text === undefined) return null;
  const answer = readQuantity(text);
  return answer.kind === "value" ? answer.value : null;
}
