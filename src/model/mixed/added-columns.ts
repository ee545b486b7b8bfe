import { mixedInference, reml, type DesignColumn, type RandomSource } from "../../numerics/index.ts";
import type { MixedFit } from "./mixed-fit.ts";

/** Fits a mixed model anew with further fixed columns behind its own. */
export function addedColumns(
  columns: readonly DesignColumn[],
  response: Float64Array,
  levels: readonly RandomSource[],
): MixedFit["added"] {
  return (further) => {
    const found = reml([...columns, ...further.map((high) => ({ high }))], response, levels);
    if (found.kind === "refused") return null;
    const { kept, rank } = found.plain;
    const places = kept.flatMap((column, k) => (column >= columns.length ? [k] : []));
    if (places.length === 0) return null;
    const mixed = mixedInference(found, "kenward-roger");
    const units = places.map((k) => new Float64Array(rank).fill(1, k, k + 1));
    return { ...mixed.contrast(units[0]), test: mixed.joint(units) };
  };
}
