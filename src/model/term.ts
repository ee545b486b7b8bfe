/**
 * One term of a model: factor names with their degree. `{}` is the intercept, `{ feed: 1, speed: 1 }` a product,
 * `{ feed: 2 }` a square. A coefficient of a category names the level compared with the first one: `{ "edge=used": 1 }`;
 * in a model that is asked for, `{ edge: 1 }` stands for the whole factor.
 */
export type Term = Readonly<Record<string, number>>;

/** The sets of terms that have a name: each includes the one before it; `power-law` is `main` on logarithms. */
export type ModelKind = "main" | "interactions" | "surface" | "power-law";
