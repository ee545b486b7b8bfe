/**
 * The unit of a difference, a half-width or a scatter. A difference of two percentages is told in percentage points: "2 %" more could as well be read as 1.02 times.
 * @example differenceUnit("%") // "percentage points"
 * @example differenceUnit("µm") // "µm"
 */
export function differenceUnit(unit: string): string {
  return /^(?:%|per ?cent|pct)$/i.test(unit.trim()) ? "percentage points" : unit;
}
