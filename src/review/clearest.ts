/** One in twenty over all that a check looks at. */
export const familyLevel = 0.05;

/** The clearest of what was looked at, its p times the number of looks (Bonferroni); null where none stands out. */
export function clearest<T extends { readonly found: { readonly p: number } }>(
  looked: readonly T[],
): (T & { readonly p: number }) | null {
  if (looked.length === 0) return null;
  const best = looked.reduce((least, one) => (one.found.p < least.found.p ? one : least));
  const p = Math.min(1, looked.length * best.found.p);
  return p < familyLevel ? { ...best, p } : null;
}
