/** Bars of even width from the least to the largest of sorted draws, as many as the cube root of their number asks for (Terrell and Scott 1985); `back` brings edges to the response's own scale. */
export function histogramOf(
  sorted: Float64Array,
  back: (value: number) => number,
): { readonly edges: readonly number[]; readonly counts: readonly number[] } | null {
  const [low, high] = [sorted[0], sorted[sorted.length - 1]];
  if (!(high > low)) return null;
  const bars = Math.min(60, Math.ceil(Math.cbrt(2 * sorted.length)));
  const counts = new Array<number>(bars).fill(0);
  for (const value of sorted) counts[Math.min(bars - 1, Math.floor((bars * (value - low)) / (high - low)))]++;
  return {
    edges: Array.from({ length: bars + 1 }, (_, k) => back(low + ((high - low) * k) / bars)),
    counts,
  };
}
