/** Quantities of 1 to 2 mm, named A, B, C … */
export const quantities = (count: number, own: object = {}) =>
  Array.from({ length: count }, (_, place) => ({
    kind: "quantity",
    name: String.fromCharCode(65 + (place % 26)) + (place < 26 ? "" : String(place)),
    unit: "mm",
    low: 1,
    high: 2,
    ...own,
  }));
/** Categories c1, c2 … with so many levels each. */
export const categories = (...levels: readonly number[]) =>
  levels.map((count, place) => ({
    kind: "category",
    name: `c${place + 1}`,
    levels: Array.from({ length: count }, (_, level) => `l${level + 1}`),
  }));

/** A request that lay-out refuses, and the whole of what it says. */
export type RefusedRequest = readonly [
  claim: string,
  factors: readonly object[],
  layout: object,
  message: string,
];

/** What is said of a request that would fill the memory. */
export const MORE = "runs are more than the 20,000 that can be laid out.";
