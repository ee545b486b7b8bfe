import { main, termKey, type Term } from "./term.ts";

/**
 * The terms with each factor of their products and squares by itself, each once. A product without its factors is another model in other units (its zero is
 * not the middle), so that what a search in coded factors found is only met by a fit that has them.
 */
export function withFactors(terms: readonly Term[]): readonly Term[] {
  const all = terms.flatMap((term) => [...Object.keys(term).map((name) => main(name)), term]);
  const keys = all.map(termKey);
  return all.filter((_, place) => keys.indexOf(keys[place]) === place);
}
