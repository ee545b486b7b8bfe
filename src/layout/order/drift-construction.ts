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
  /** Clock letters in the word of each contrast, at best. */
  readonly letters: readonly number[];
}

export interface ConstructionOptions {
  /** Judges an order of the points where time does not go on evenly; left out, the words are judged by their length. */
  readonly lossOf?: (order: readonly number[]) => number;
  /** How many changes of the clocks are tried. */
  readonly tries?: number;
}

interface Random {
  readonly integer: (below: number) => number;
}

/**
 * @param points the distinct runs as bits, one bit a factor; they must be a coset of a group under exclusive or.
 * @param contrasts each as the bits of the factors whose product it is: one bit for a main effect.
 * Returns undefined where the points are not such a coset: then no word can be given.
 */
export function trendFreeOrder(
  points: readonly number[],
  contrasts: readonly number[],
  random: Random,
  options: ConstructionOptions = {},
): TrendFreeOrder | undefined {
  const { lossOf, tries = TRIES } = options;
  const places = new Map(points.map((point, index) => [point, index]));
  const start = points[random.integer(points.length)];
  if (start === undefined || places.size !== points.length) return undefined;
  const basis = groupBasis(points.map((point) => point ^ start));
  if (1 << basis.length !== points.length) return undefined;
  const orderOf = (clocks: readonly number[], first: number) =>
    Array.from({ length: points.length }, (_, place) => {
      let point = first;
      clocks.forEach((generator, letter) => {
        if ((place >> letter) & 1) point ^= generator;
      });
      // Points and clocks are one coset, so that every point has its place.
      return places.get(point) ?? 0;
    });
  const found = bestClocks(
    basis,
    random,
    { first: start, points },
    lossOf
      ? (clocks, first) => -lossOf(orderOf(clocks, first))
      : (clocks) => wordScore(lettersOf(clocks, contrasts)),
    { tries, movesFirst: lossOf !== undefined },
  );
  return { order: orderOf(found.clocks, found.first), letters: lettersOf(found.clocks, contrasts) };
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

/** How many clock letters each contrast's word has: the clocks whose generator turns its sign. */
function lettersOf(clocks: readonly number[], contrasts: readonly number[]): readonly number[] {
  return contrasts.map((contrast) => clocks.filter((generator) => isOdd(generator & contrast)).length);
}

function isOdd(bits: number): boolean {
  let rest = bits;
  let odd = false;
  while (rest !== 0) {
    odd = !odd;
    rest &= rest - 1;
  }
  return odd;
}

/** Tries of a random change of clocks; the words are few (at most 7 letters), so that this many find a best set in practice. */
const TRIES = 3000;

interface Found {
  readonly clocks: readonly number[];
  readonly first: number;
}

/** A random walk over the clocks (and, where order matters, over the first point) for the largest score. */
function bestClocks(
  basis: readonly number[],
  random: Random,
  { first, points }: { readonly first: number; readonly points: readonly number[] },
  score: (clocks: readonly number[], first: number) => number,
  { tries, movesFirst }: { readonly tries: number; readonly movesFirst: boolean },
): Found {
  let best: Found = { clocks: basis, first };
  let bestScore = score(basis, first);
  let now = best;
  let current = bestScore;
  for (let attempt = 0; attempt < tries && basis.length > 1; attempt += 1) {
    const to = random.integer(basis.length);
    const from = (to + 1 + random.integer(basis.length - 1)) % basis.length;
    const clocks = now.clocks.map((generator, letter) =>
      letter === to ? generator ^ (now.clocks[from] ?? 0) : generator,
    );
    const changed: Found =
      !movesFirst || random.integer(4) > 0
        ? { clocks, first: now.first }
        : { clocks: now.clocks, first: points[random.integer(points.length)] ?? now.first };
    const found = score(changed.clocks, changed.first);
    // Now and then a worse step is taken, so that the walk leaves a dead end.
    if (found >= current || random.integer(8) === 0) {
      now = changed;
      current = found;
    }
    if (found > bestScore) {
      best = changed;
      bestScore = found;
    }
  }
  return best;
}

/** Lexicographic in one number: contrasts free of a steady drift, then free of a bending one, then letters in all. */
function wordScore(words: readonly number[]): number {
  const letters = words.filter((count) => count > 0);
  const steady = letters.filter((count) => count >= 2).length;
  const bending = letters.filter((count) => count >= 3).length;
  return steady * 1e6 + bending * 1e3 + letters.reduce((sum, count) => sum + count, 0);
}
