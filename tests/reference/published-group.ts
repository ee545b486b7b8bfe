import { allowance, type Comparison } from "./agreement.ts";

/** Published figures of one source that are checked outside the worked examples' own fits. */
export interface PublishedGroup {
  readonly source: string;
  readonly figures: readonly Comparison[];
}

export type Compare = (
  what: string,
  printed: string,
  value: number | null | undefined,
  options?: { readonly allowed?: number },
) => void;

/** Collects the figures of one source; each is allowed half a unit of its last printed digit, or what is stated where the source rounded on the way. */
export function published(source: string, fill: (compare: Compare) => void): PublishedGroup {
  const figures: Comparison[] = [];
  fill((what, printed, value, options = {}) => {
    const found = value ?? null;
    const off =
      found === null
        ? Infinity
        : Math.abs(found - Number(printed)) / (options.allowed ?? allowance(printed, found));
    figures.push({ what, expected: printed, found, off });
  });
  return { source, figures };
}
