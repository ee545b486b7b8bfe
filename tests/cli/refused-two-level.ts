import { categories, MORE, quantities, type RefusedRequest } from "./refused-request.ts";

/** Sweeps, factorials, fractions, Plackett–Burman and definitive screening. */
export const refusedTwoLevel: readonly RefusedRequest[] = [
  // Fewer than two levels, whatever the kind: refused with the description, before any layout.
  [
    "sweep: one level",
    categories(1),
    { kind: "sweep" },
    'spec.json, factors[0].levels: got ["l1"]; expected two levels or more. Add the level to compare with; what stays still belongs under held.',
  ],
  [
    "optimal: one level",
    [...quantities(2), ...categories(1)],
    { kind: "optimal" },
    'spec.json, factors[2].levels: got ["l1"]; expected two levels or more. Add the level to compare with; what stays still belongs under held.',
  ],
  [
    "optimal: equal low and high",
    quantities(2, { high: 1 }),
    { kind: "optimal" },
    [0, 1]
      .map(
        (place) =>
          `spec.json, factors[${place}].low: got 1; expected a number below high (1 mm). A factor that stays still belongs under held.`,
      )
      .join("\n"),
  ],

  [
    "sweep: huge",
    quantities(2),
    { kind: "sweep", points: 1000, replicates: 1000 },
    `layout "sweep": 1,000,000 ${MORE} Take at most 20 replicates.`,
  ],
  [
    "sweep: one million points",
    quantities(1),
    { kind: "sweep", points: 1e6 },
    "layout.points: expected a number up to 1000, got 1000000.",
  ],
  [
    "sweep: blocks",
    quantities(1),
    { kind: "sweep", blocks: 7 },
    'layout "sweep": 1 replicate can\'t be dealt evenly to 7 blocks. Take 7 replicates, or blocks: 1.',
  ],

  [
    "factorial: 30 factors",
    quantities(30),
    { kind: "factorial" },
    `layout "factorial": 1,073,741,824 ${MORE} Take at most 14 factors of 2 levels, or use "fraction" or "optimal" with more.`,
  ],
  [
    "factorial: 128 levels",
    categories(128, 128, 128),
    { kind: "factorial" },
    `layout "factorial": 2,097,152 ${MORE} Take at most 2 factors of 128 levels, or use "orthogonal-array" or "optimal" with more.`,
  ],
  [
    "factorial: replicates",
    quantities(6),
    { kind: "factorial", replicates: 1000 },
    `layout "factorial": 64,000 ${MORE} Take at most 312 replicates.`,
  ],
  [
    "factorial: blocks",
    quantities(4),
    { kind: "factorial", blocks: 7 },
    'layout.blocks: 16 runs of a two-level "factorial" can\'t be cut into 7 blocks. Take 2, 4, 8, or as many replicates as blocks.',
  ],
  [
    "factorial: centre runs without a quantity",
    categories(2, 2),
    { kind: "factorial", centrePoints: 3 },
    'layout "factorial": centrePoints is 3, but a centre needs a factor that is a quantity. Set centrePoints to 0.',
  ],
  [
    "optimal: centre runs at thousands of combinations",
    [...quantities(1), ...categories(128, 128)],
    { kind: "optimal", terms: "main", centrePoints: 1000, runs: 260, starts: 1 },
    "layout.centrePoints: 1,000 at each of the 16,384 combinations of categories are 16,384,000 runs, more than the 20,000 that can be laid out. Take at most 1.",
  ],

  [
    "fraction: resolution that can't be had",
    quantities(4),
    { kind: "fraction", resolution: 5 },
    'layout.resolution: no fraction of 4 factors has resolution 5. State "resolution": 4, which can be had, or use "factorial" with its 16 runs.',
  ],
  [
    "fraction: resolution left out",
    quantities(3),
    { kind: "fraction" },
    'layout.resolution: no fraction of 3 factors has resolution 4, which is looked for unless another is stated. State "resolution": 3, which can be had, or use "factorial" with its 8 runs.',
  ],
  [
    "fraction: two factors",
    quantities(2),
    { kind: "fraction" },
    'layout "fraction": 2 factors; it takes three or more. With fewer, use "factorial" with its 4 runs.',
  ],
  [
    "fraction: impossible runs",
    quantities(4),
    { kind: "fraction", runs: 7 },
    'layout.runs: 7 runs can\'t hold a fraction of 4 factors; these can: 8. For other multiples of 4 use "plackett-burman".',
  ],
  [
    "fraction: one million runs",
    quantities(4),
    { kind: "fraction", runs: 1e6 },
    "layout.runs: expected a number up to 1024, got 1000000.",
  ],
  [
    "fraction: one factor generated twice",
    quantities(5),
    { kind: "fraction", generators: ["D = ABC", "D = AB"] },
    'layout.generators: "D = AB" can\'t stand: D has a generator already. Give each generated factor its own product of two or more basic factors (here A, B, C and E).',
  ],
  [
    "fraction: two factors alike",
    quantities(5),
    { kind: "fraction", generators: ["D = AB", "E = AB"] },
    'layout.generators: "E = AB" can\'t stand: E would always move with D. Give each generated factor its own product of two or more basic factors (here A, B and C).',
  ],
  [
    "fraction: a factor that never changes",
    quantities(4),
    { kind: "fraction", generators: ["D = A × A"] },
    'layout.generators: "D = A × A" can\'t stand: D would never change. Give each generated factor its own product of two or more basic factors (here A, B and C).',
  ],
  [
    "fraction: all generated",
    quantities(3),
    { kind: "fraction", generators: ["A = BC", "B = AC", "C = AB"] },
    "layout.generators: 3 generators for 3 factors leave fewer than two basic factors. Give at most 1.",
  ],
  [
    "fraction: too few generators for 25 factors",
    quantities(25),
    { kind: "fraction", generators: ["Y = ABC"] },
    `layout "fraction": 16,777,216 ${MORE} Give more generators, or fewer factors.`,
  ],
  [
    "fraction: 128 levels",
    categories(128, 128, 128),
    { kind: "fraction" },
    'layout "fraction": c1 has 128 levels, and this kind takes two. Leave out 126 of them, or use "orthogonal-array", "factorial" or "optimal".',
  ],

  [
    "plackett-burman: impossible runs",
    quantities(4),
    { kind: "plackett-burman", runs: 7 },
    "layout.runs: 7 runs can't hold 4 factors in a Plackett–Burman layout; take a multiple of 4 from 8 to 100.",
  ],
  [
    "plackett-burman: 92 runs",
    quantities(4),
    { kind: "plackett-burman", runs: 92 },
    "layout.runs: no construction for 92 runs is known to this tool. Take 88 or 96.",
  ],
  [
    "plackett-burman: three levels",
    [...quantities(2), ...categories(3)],
    { kind: "plackett-burman" },
    'layout "plackett-burman": c1 has 3 levels, and this kind takes two. Leave out 1 of them, or use "orthogonal-array", "factorial" or "optimal".',
  ],

  [
    "definitive-screening: two factors",
    quantities(2),
    { kind: "definitive-screening" },
    'layout "definitive-screening": 2 factors; it takes 3 or more. With fewer, use "central-composite".',
  ],
  [
    "definitive-screening: 70 factors",
    quantities(70),
    { kind: "definitive-screening" },
    'layout "definitive-screening": 70 factors; it takes 3 to 64. With more, use "plackett-burman" first.',
  ],
  [
    "definitive-screening: extra runs",
    quantities(60),
    { kind: "definitive-screening", extra: 60 },
    "layout.extra: 60 extra runs beside 60 factors are more than this tool can lay out. Take at most 8.",
  ],
  [
    "definitive-screening: blocks",
    quantities(6),
    { kind: "definitive-screening", blocks: 12 },
    "layout.blocks: 6 pairs of runs can't fill 12 blocks of at least two pairs. Take at most 3.",
  ],
];
