/**
 * Which factors move together in a Box–Behnken layout, by number of factors; the others stand at their middle.
 * `parts` splits the sets into blocks that hold each factor equally often (set numbers from 0); `byProduct` splits every set
 * by the sign of the product of its factors instead.
 */
export interface BoxBehnkenTable {
  readonly sets: readonly (readonly number[])[];
  readonly parts?: readonly (readonly number[])[];
  readonly byProduct?: true;
  /** Centre runs where none are asked for, as published. */
  readonly centrePoints: number;
  readonly source: string;
}

const PUBLISHED = "Box and Behnken, Technometrics 2, 1960, 455–475";
const FROM_MEMORY = `${PUBLISHED}, from memory: balance and clear main effects are checked, the printed table was not at hand`;

/** The same set moved on by one factor at a time, round the circle. */
function cyclic(factors: number, set: readonly number[]): readonly (readonly number[])[] {
  return Array.from({ length: factors }, (_, shift) =>
    set.map((factor) => (factor + shift) % factors).sort((one, other) => one - other),
  );
}

/** Lines of the affine plane of order 3: every pair of nine factors once. */
const NINE_LINES: readonly (readonly number[])[] = [
  [0, 1, 2],
  [3, 4, 5],
  [6, 7, 8],
  [0, 3, 6],
  [1, 4, 7],
  [2, 5, 8],
  [0, 4, 8],
  [1, 5, 6],
  [2, 3, 7],
  [0, 5, 7],
  [1, 3, 8],
  [2, 4, 6],
];

export const boxBehnkenTables: Readonly<Record<number, BoxBehnkenTable>> = {
  3: {
    sets: [
      [0, 1],
      [0, 2],
      [1, 2],
    ],
    centrePoints: 3,
    source: PUBLISHED,
  },
  4: {
    sets: [
      [0, 1],
      [2, 3],
      [0, 3],
      [1, 2],
      [0, 2],
      [1, 3],
    ],
    parts: [
      [0, 1],
      [2, 3],
      [4, 5],
    ],
    centrePoints: 3,
    source: PUBLISHED,
  },
  5: {
    sets: [
      [0, 1],
      [2, 3],
      [1, 4],
      [0, 2],
      [3, 4],
      [1, 2],
      [0, 3],
      [2, 4],
      [0, 4],
      [1, 3],
    ],
    parts: [
      [0, 1, 2, 3, 4],
      [5, 6, 7, 8, 9],
    ],
    centrePoints: 6,
    source: PUBLISHED,
  },
  6: { sets: cyclic(6, [0, 1, 3]), byProduct: true, centrePoints: 6, source: PUBLISHED },
  7: {
    sets: [
      [3, 4, 5],
      [0, 5, 6],
      [1, 4, 6],
      [0, 1, 3],
      [2, 3, 6],
      [0, 2, 4],
      [1, 2, 5],
    ],
    byProduct: true,
    centrePoints: 6,
    source: PUBLISHED,
  },
  8: {
    sets: cyclic(8, [0, 1, 2, 4]),
    byProduct: true,
    centrePoints: 8,
    source: "a cyclic construction of the same form, not in the paper of 1960",
  },
  9: {
    // One parallel class twice, so that there are 15 sets as in the paper.
    sets: [...NINE_LINES, ...NINE_LINES.slice(3, 6)],
    byProduct: true,
    centrePoints: 10,
    source: FROM_MEMORY,
  },
  10: { sets: cyclic(10, [0, 1, 4, 6]), byProduct: true, centrePoints: 10, source: FROM_MEMORY },
  11: { sets: cyclic(11, [1, 3, 4, 5, 9]), centrePoints: 12, source: FROM_MEMORY },
  12: { sets: cyclic(12, [0, 1, 4, 6]), byProduct: true, centrePoints: 12, source: FROM_MEMORY },
};
