/** Part of a row outside a span, relative to its length, that counts as a new direction; rounding leaves about 1e-14. */
const NEW_DIRECTION = 1e-8;

/** Directions at right angles that span some rows. */
export type Span = readonly (readonly number[])[];

/** What of a row the span does not hold, by Gram–Schmidt twice over; null where nothing is left but rounding. */
export function outside(span: Span, row: readonly number[]): readonly number[] | null {
  const left = [...row];
  for (let pass = 0; pass < 2; pass += 1) {
    for (const direction of span) {
      const along = direction.reduce((sum, value, index) => sum + value * (left[index] ?? 0), 0);
      direction.forEach((value, index) => {
        left[index] = (left[index] ?? 0) - along * value;
      });
    }
  }
  const length = Math.hypot(...left);
  if (!(length > NEW_DIRECTION * Math.hypot(...row)) || length === 0) return null;
  return left.map((value) => value / length);
}

export function spanOf(rows: readonly (readonly number[])[]): Span {
  const span: (readonly number[])[] = [];
  for (const row of rows) {
    const left = outside(span, row);
    if (left) span.push(left);
  }
  return span;
}

/** What a search for the fewest rows came to. */
export interface Fewest {
  /** Sets of places of candidates, all of the smallest size that was found. */
  readonly sets: readonly (readonly number[])[];
  /** True where every smaller set was tried or can't do by its number alone. */
  readonly proven: boolean;
}

/** Sets looked at before a search settles for what it has; about a second's work. */
const MOST_SETS = 200_000;
/** Sets of the smallest size that are kept to choose among. */
const MOST_KEPT = 400;

/**
 * The fewest candidates whose span holds all of `wanted`. As many are needed as `wanted` has directions; from there on every
 * set of each size is tried, so that the answer is proven the smallest; where the sets are too many, candidates are taken
 * one by one and those that turn out not to be needed are left out again. Null where all candidates together do not do.
 */
export function fewestSpanning(
  candidates: readonly (readonly number[])[],
  wanted: readonly (readonly number[])[],
): Fewest | null {
  const needed = spanOf(wanted);
  const does = (places: readonly number[]): boolean => {
    const span = spanOf(places.map((place) => candidates[place] ?? []));
    return needed.every((direction) => outside(span, direction) === null);
  };
  if (!does(candidates.map((_, place) => place))) return null;
  for (let size = needed.length; size <= candidates.length; size += 1) {
    if (count(candidates.length, size) > MOST_SETS) break;
    const sets: (readonly number[])[] = [];
    for (const places of subsets(candidates.length, size)) {
      if (does(places)) sets.push(places);
      if (sets.length === MOST_KEPT) break;
    }
    if (sets.length > 0) return { sets, proven: true };
  }
  return { sets: [oneByOne(candidates, does)], proven: false };
}

function oneByOne(
  candidates: readonly (readonly number[])[],
  does: (places: readonly number[]) => boolean,
): readonly number[] {
  const taken: number[] = [];
  const span: (readonly number[])[] = [];
  for (let place = 0; place < candidates.length && !does(taken); place += 1) {
    const left = outside(span, candidates[place] ?? []);
    if (left === null) continue;
    span.push(left);
    taken.push(place);
  }
  return [...taken].reduce<readonly number[]>((kept, place) => {
    const without = kept.filter((other) => other !== place);
    return does(without) ? without : kept;
  }, taken);
}

function count(items: number, chosen: number): number {
  let sets = 1;
  for (let index = 0; index < chosen; index += 1) sets = (sets * (items - index)) / (index + 1);
  return sets;
}

function* subsets(items: number, size: number): Generator<readonly number[]> {
  const places = Array.from({ length: size }, (_, index) => index);
  if (size > items) return;
  for (;;) {
    yield [...places];
    let at = size - 1;
    while (at >= 0 && places[at] === items - size + at) at -= 1;
    if (at < 0) return;
    places[at] = (places[at] ?? 0) + 1;
    for (let next = at + 1; next < size; next += 1) places[next] = (places[next - 1] ?? 0) + 1;
  }
}
