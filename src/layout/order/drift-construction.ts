/**
 * Trend-free orders of two-level fractions (full factorials among them).
 *
 * In standard order the contrast of an interaction of w letters is at right angles to every polynomial in time of degree
 * below w (Daniel and Wilcoxon, Technometrics 8, 1966, 259–278; Cheng and Jacroux, J. American Statistical Association 83,
 * 1988, 1152–1158). So runs are generated in the standard order of m "clock" letters, and each factor is given a word of
 * clock letters: two letters keep a steady drift out of its main effect, three a bending one as well.
 */

/** Bits of the run at each place: `orderOf[i]` is the index, in `points`, of the run to cut at place i. */
export interface TrendFreeOrder {
  readonly order: readonly number[];
  /** Clock letters in the word of each factor, at best. */
  readonly letters: readonly number[];
}

interface Random {
  readonly integer: (below: number) => number;
}

/**
 * @param points the distinct runs as bits, one bit a factor; they must be a coset of a group under exclusive or.
 * @param factors how many bits.
 * Returns undefined where the points are not such a coset: then no word can be given.
 */
export function trendFreeOrder(
  points: readonly number[],
  factors: number,
  random: Random,
): TrendFreeOrder | undefined {
  const places = new Map(points.map((point, index) => [point, index]));
  const start = points[random.integer(points.length)];
  if (start === undefined || places.size !== points.length) return undefined;
  const basis = groupBasis(points.map((point) => point ^ start));
  if (1 << basis.length !== points.length) return undefined;
  const clocks = bestClocks(basis, factors, random);
  const order = Array.from({ length: points.length }, (_, place) => {
    let point = start;
    clocks.forEach((generator, letter) => {
      if ((place >> letter) & 1) point ^= generator;
    });
    return places.get(point);
  });
  if (order.some((index) => index === undefined)) return undefined;
  return { order: order.filter((index) => index !== undefined), letters: lettersOf(clocks, factors) };
}

/** Independent generators of the group that the vectors span; where they are a group, 2^length of them. */
function groupBasis(vectors: readonly number[]): readonly number[] {
  const reduced: number[] = [];
  for (const vector of vectors) {
    let rest = vector;
    for (const one of reduced) rest = Math.min(rest, rest ^ one);
    if (rest > 0) reduced.push(rest);
  }
  return reduced;
}

/** How many clock letters each factor's word has: the clocks whose generator flips that factor. */
function lettersOf(clocks: readonly number[], factors: number): readonly number[] {
  return Array.from(
    { length: factors },
    (_, factor) => clocks.filter((generator) => (generator >> factor) & 1).length,
  );
}

/** Tries of a random change of clocks; the words are few (at most 7 letters), so that this many find a best set in practice. */
const TRIES = 3000;

/** Clocks whose words are long: no word of one letter if that can be had, then as few as can be of two letters. */
function bestClocks(basis: readonly number[], factors: number, random: Random): readonly number[] {
  let best = basis;
  let bestScore = score(basis, factors);
  let clocks = [...basis];
  let current = bestScore;
  for (let attempt = 0; attempt < TRIES && basis.length > 1; attempt += 1) {
    const to = random.integer(clocks.length);
    const from = (to + 1 + random.integer(clocks.length - 1)) % clocks.length;
    const changed = clocks.map((generator, letter) =>
      letter === to ? generator ^ (clocks[from] ?? 0) : generator,
    );
    const found = score(changed, factors);
    // Now and then a worse step is taken, so that the walk leaves a dead end.
    if (found >= current || random.integer(8) === 0) {
      clocks = changed;
      current = found;
    }
    if (found > bestScore) {
      best = changed;
      bestScore = found;
    }
  }
  return best;
}

/** Lexicographic in one number: factors free of a steady drift, then free of a bending one, then letters in all. */
function score(clocks: readonly number[], factors: number): number {
  const letters = lettersOf(clocks, factors).filter((count) => count > 0);
  const steady = letters.filter((count) => count >= 2).length;
  const bending = letters.filter((count) => count >= 3).length;
  return steady * 1e6 + bending * 1e3 + letters.reduce((sum, count) => sum + count, 0);
}
