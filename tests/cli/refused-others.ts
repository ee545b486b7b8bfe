import { categories, MORE, quantities, type RefusedRequest } from "./refused-request.ts";

/** Surfaces, arrays, squares, optimal and given layouts. */
export const refusedOthers: readonly RefusedRequest[] = [
  [
    "central-composite: categories alone",
    categories(3, 3),
    { kind: "central-composite" },
    'layout "central-composite": categories have no curve; it takes two quantities or more. For categories alone use "factorial".',
  ],
  [
    "central-composite: 14 factors",
    quantities(14),
    { kind: "central-composite" },
    'layout.cube: all corners of 14 factors are 16,384 runs. Take "cube": 256.',
  ],
  [
    "central-composite: cube",
    quantities(5),
    { kind: "central-composite", cube: 8 },
    "layout.cube: 8 corners of 5 factors have resolution 3; a surface needs 5, so that products of two factors stand apart. Take 16.",
  ],
  [
    "central-composite: blocks",
    quantities(4),
    { kind: "central-composite", blocks: 7 },
    "layout.blocks: the corners of 4 factors can't be dealt to 6 blocks without confounding products of two factors. Take 2 or 3 (one block is for the axial runs).",
  ],

  [
    "box-behnken: 30 factors",
    quantities(30),
    { kind: "box-behnken" },
    'layout "box-behnken": 30 quantities; it takes 3 to 12. With more, use "definitive-screening" first.',
  ],
  [
    "box-behnken: categories alone",
    categories(3, 3, 3),
    { kind: "box-behnken" },
    'layout "box-behnken": categories have no curve; it takes 3 to 12 quantities. For categories alone use "factorial".',
  ],
  [
    "box-behnken: blocks",
    quantities(4),
    { kind: "box-behnken", blocks: 7 },
    "layout.blocks: a Box–Behnken layout of 4 factors can't be cut into 7 blocks that leave its effects alone. Take 3 or 1, or as many replicates as blocks.",
  ],

  [
    "orthogonal-array: impossible runs",
    quantities(4),
    { kind: "orthogonal-array", runs: 7 },
    'layout "orthogonal-array": no array of 7 runs holds 4 factors of 2 levels. These do: 8, 12, 16, 32, 36 and 64 runs.',
  ],
  [
    "orthogonal-array: 128 levels",
    categories(128, 128, 128),
    { kind: "orthogonal-array" },
    'layout "orthogonal-array": no array here holds 3 factors of 128 levels. If all 3 have the same number of levels, that can be 2, 3, 4, 5, 7, 8 or 9; for other numbers use "optimal".',
  ],

  [
    "latin-square: squares that can't be had",
    categories(6, 6, 6, 6, 6),
    { kind: "latin-square" },
    'layout "latin-square": 5 factors of 6 levels need 3 squares at right angles; this tool makes 1 for 6 levels. Take at most 3 factors, or 7 levels.',
  ],
  [
    "latin-square: 128 levels beside two",
    categories(2, 3, 128),
    { kind: "latin-square" },
    'layout "latin-square": factors have 2 levels (c1), 3 levels (c2) and 128 levels (c3). Give all 128 levels, or, of three factors, one of them fewer.',
  ],

  [
    "optimal: a square of a category",
    [...quantities(1), ...categories(3)],
    { kind: "optimal", terms: [{ A: 1 }, { c1: 2 }] },
    "terms: c1 is a category and has no power 2. Use c1 to the first.",
  ],
  [
    "optimal: more terms than runs",
    quantities(5),
    { kind: "optimal", terms: "surface", runs: 20 },
    'layout.runs: 21 terms (the mean among them) can\'t be told by 20 runs. Take at least 21, better 25, or move terms to "lesserTerms".',
  ],
  [
    "optimal: no room",
    quantities(2),
    { kind: "optimal", runs: 8, constraints: [{ sum: { A: 1, B: 1 }, atMost: 1 }] },
    "layout.constraints: none of 4,000 settings drawn over the ranges is allowed (the last because 1 × A + 1 × B is above 1). Loosen a constraint or widen a range.",
  ],
  [
    "optimal: one million runs",
    quantities(4),
    { kind: "optimal", runs: 1e6 },
    "layout.runs: expected a number up to 2000, got 1000000.",
  ],
  [
    "optimal: 128 levels",
    categories(128, 128, 128),
    { kind: "optimal" },
    'layout.terms: mean and terms take 48,769 columns, more than the 600 that a search can hold. Ask for "main", which takes 382, or list the terms that you need.',
  ],
  [
    "optimal: a product of millions",
    categories(10, 10, 10, 10, 10, 10, 10, 10),
    { kind: "optimal", terms: [{ c1: 1, c2: 1, c3: 1, c4: 1, c5: 1, c6: 1, c7: 1, c8: 1 }] },
    'layout.terms: mean and terms take 43,046,722 columns, more than the 600 that a search can hold. Ask for "main", which takes 73, or list the terms that you need.',
  ],
  [
    "optimal: a thousand blocks",
    quantities(4),
    { kind: "optimal", blocks: 1000 },
    "layout.terms: mean, blocks and terms take 1,010 columns, more than the 600 that a search can hold. Ask for fewer factors, levels or blocks, or list the terms that you need.",
  ],
  [
    "optimal: 30 factors, a second degree, too many starts",
    quantities(30),
    { kind: "optimal", terms: "surface", starts: 100 },
    "layout.starts: 100 starts with 500 runs and 496 terms would take too long. At most 30 starts can be made.",
  ],
  [
    "optimal: replicates",
    quantities(6),
    { kind: "optimal", replicates: 1000 },
    `layout "optimal": 26,000 ${MORE} Take at most 769 replicates.`,
  ],

  [
    "given: nothing",
    [...quantities(1), ...categories(2)],
    { kind: "given" },
    'layout.runs: no run is given. List one or more, each with a setting of every factor, such as {"A":1,"c1":"l1"}.',
  ],
  [
    "given: an empty list",
    quantities(30),
    { kind: "given", runs: [] },
    "layout.runs: no run is given. List one or more, each with a setting of every factor.",
  ],
  ["given: a number", quantities(2), { kind: "given", runs: 7 }, "layout.runs: expected a list, got 7."],
  [
    "given: too many",
    quantities(1),
    { kind: "given", runs: Array.from({ length: 30_000 }, () => ({ A: 1 })) },
    `layout "given": 30,000 ${MORE} Give fewer runs.`,
  ],
  [
    "given: a setting missing",
    quantities(2),
    { kind: "given", runs: [{ A: 1, B: 2 }, { A: 1 }] },
    "layout.runs, run 2: B has no setting. Give one for each factor.",
  ],
];
