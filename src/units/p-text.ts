/**
 * A p value to two significant digits, "below 0.0001" for smaller ones: more zeros say no more, and the tail of a model is not known so far out.
 * @example pText(0.0343) // "0.034"
 */
export function pText(p: number): string {
  return p < 1e-4 ? "below 0.0001" : String(Number(p.toPrecision(2)));
}
