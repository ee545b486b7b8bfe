import type { LimitJudge } from "./limit-judge.ts";
import type { PassScore } from "./pass-score.ts";
import type { SearchSpace } from "./search-space.ts";

/** Where a search ended. */
export interface SearchEnd {
  readonly which: number;
  readonly place: Int32Array;
  /** True where every limit is kept there; else it is the place that comes nearest. */
  readonly kept: boolean;
  readonly score: number;
  /** The least of the distances of the bounds from their limits, in standard deviations of a row. */
  readonly inside: number;
  /** Settings of the whole grid, and how many were judged. */
  readonly settings: number;
  readonly judged: number;
  /** True where no setting of the grid can be better; false where it was too large to look at all of it. */
  readonly exact: boolean;
}

/** So many places of a coarse grid are looked at first, over all combinations. */
const coarsePlaces = 4096;
/** The best so many of them are improved step by step. */
const starts = 6;
/** A grid of more settings than these, or with more places to judge, is not swept to the end. */
const mostSwept = 2_000_000;
const mostJudged = 400_000;
/** Scores that differ by less than this share are one score. */
const sameScore = 1e-12;

interface Best {
  which: number;
  place: Int32Array;
  kept: boolean;
  score: number;
  inside: number;
}

/**
 * The place of the grid with the highest score where every judge is content; without one, the place whose worst bound comes nearest. A coarse grid gives starts,
 * which climb in steps down to one increment; then the whole grid is swept for anything better, only places of a higher score being judged,
 * so that the answer is exact wherever that can be finished. Deterministic; of equal scores the one farther inside the limits.
 */
export function gridSearch(
  space: SearchSpace,
  judges: readonly LimitJudge[],
  scores: readonly PassScore[],
): SearchEnd {
  const search = new Search(space, judges, scores);
  const ends = space.combinations.flatMap((_, which) => search.coarse(which));
  ends.sort(better);
  for (const end of ends.slice(0, starts)) search.climb(end);
  const exact = search.sweep();
  const { which, place, kept, score, inside } = search.best;
  return { which, place, kept, score, inside, settings: search.settings, judged: search.judged, exact };
}

/** Below zero where `a` is the better one. */
function better(a: Best, b: Best): number {
  if (a.kept !== b.kept) return a.kept ? -1 : 1;
  if (a.kept && Math.abs(a.score - b.score) > sameScore * Math.abs(b.score)) return b.score - a.score;
  // Without scatter both may be infinite, and alike.
  return a.inside === b.inside ? 0 : b.inside - a.inside;
}

class Search {
  readonly #space: SearchSpace;
  readonly #judges: readonly LimitJudge[];
  readonly #scores: readonly PassScore[];
  readonly #lengths: readonly number[];
  /** Each judge's own point at each combination, and where its axes stand in it. */
  readonly #points: readonly (readonly Float64Array[])[];
  readonly #slots: readonly (readonly number[])[];
  readonly #coordinates: readonly (readonly Float64Array[])[];
  readonly #spacing: readonly number[];
  readonly settings: number;
  judged = 0;
  best: Best;

  constructor(space: SearchSpace, judges: readonly LimitJudge[], scores: readonly PassScore[]) {
    this.#space = space;
    this.#judges = judges;
    this.#scores = scores;
    this.#lengths = space.axes.map(({ settings }) => settings.length);
    this.settings = this.#lengths.reduce((all, length) => all * length, space.combinations.length);
    this.#slots = judges.map(({ evaluator }) => space.axes.map(({ name }) => evaluator.slotOf(name)));
    this.#coordinates = judges.map(({ evaluator }, j) =>
      space.axes.map(({ name, settings }, i) =>
        this.#slots[j][i] < 0
          ? new Float64Array(0)
          : Float64Array.from(settings, (setting) => evaluator.coordinate(name, setting)),
      ),
    );
    this.#points = space.combinations.map((settings) =>
      judges.map(({ evaluator }) => {
        const point = evaluator.centre();
        for (const [name, setting] of Object.entries(settings)) evaluator.set(point, name, setting);
        return point;
      }),
    );
    this.#spacing = coarseSpacing(this.#lengths, coarsePlaces / space.combinations.length);
    const place = new Int32Array(this.#lengths.length);
    this.best = { which: 0, place, kept: false, score: -Infinity, inside: -Infinity };
  }

  /** The least of the distances inside; it stops early where a place can't be kept and is worse than the nearest so far. */
  #inside(which: number, place: Int32Array): number {
    this.judged++;
    let least = Infinity;
    for (let j = 0; j < this.#judges.length; j++) {
      const point = this.#points[which][j];
      const slots = this.#slots[j];
      for (let i = 0; i < slots.length; i++)
        if (slots[i] >= 0) point[slots[i]] = this.#coordinates[j][i][place[i]];
      const inside = this.#judges[j].inside(point);
      if (inside < least) least = inside;
      if (least < 0 && (this.best.kept || least < this.best.inside)) return least;
    }
    return least;
  }

  #look(which: number, place: Int32Array): Best | null {
    const { score, isAllowed } = this.#scores[which];
    if (!isAllowed(place)) return null;
    const inside = this.#inside(which, place);
    const found = { which, place, kept: inside >= 0, score: score(place), inside };
    if (better(found, this.best) < 0) this.best = { ...found, place: Int32Array.from(place) };
    return found;
  }

  /** The few best places of a coarse grid. */
  coarse(which: number): readonly Best[] {
    const found: Best[] = [];
    const place = new Int32Array(this.#lengths.length);
    const visit = (axis: number): void => {
      if (axis === place.length) {
        const here = this.#look(which, place);
        if (here === null) return;
        found.push({ ...here, place: Int32Array.from(place) });
        if (found.length > 64) found.sort(better).splice(starts);
        return;
      }
      const [length, spacing] = [this.#lengths[axis], this.#spacing[axis]];
      for (let k = 0; k < length - 1; k += spacing) {
        place[axis] = k;
        visit(axis + 1);
      }
      place[axis] = length - 1;
      visit(axis + 1);
    };
    visit(0);
    return found.sort(better).slice(0, starts);
  }

  /** Steps along one axis or two at once, halved down to one increment. */
  climb(from: Best): void {
    let here = from;
    for (let share = 1; ; share /= 2) {
      const steps = this.#spacing.map((spacing) => Math.max(1, Math.round(spacing * share)));
      for (let moved = true; moved;) {
        moved = false;
        for (const move of movesOf(steps)) {
          const place = here.place.map((k, i) => Math.min(this.#lengths[i] - 1, Math.max(0, k + move[i])));
          if (place.every((k, i) => k === here.place[i])) continue;
          const there = this.#look(here.which, place);
          if (there === null || better(there, here) >= 0) continue;
          here = { ...there, place };
          moved = true;
        }
      }
      if (steps.every((step) => step === 1)) return;
    }
  }

  /** Judges every place that could be better; false where that is too much. */
  sweep(): boolean {
    if (this.settings > mostSwept) return false;
    const most = this.judged + mostJudged;
    const place = new Int32Array(this.#lengths.length);
    for (let which = 0; which < this.#space.combinations.length; which++) {
      const { score, isAllowed } = this.#scores[which];
      this.#lengths.forEach((length, i) => (place[i] = length - 1));
      for (let more = true; more; more = this.#stepDown(place)) {
        if (this.best.kept && score(place) < this.best.score * (1 - sameScore)) continue;
        if (!isAllowed(place)) continue;
        this.#look(which, place);
        if (this.judged > most) return false;
      }
    }
    return true;
  }

  #stepDown(place: Int32Array): boolean {
    for (let i = place.length - 1; i >= 0; i--) {
      if (place[i] > 0) {
        place[i]--;
        return true;
      }
      place[i] = this.#lengths[i] - 1;
    }
    return false;
  }
}

/** Every so many settings of each axis, alike in places an axis, so that there are about `most` places. */
function coarseSpacing(lengths: readonly number[], most: number): readonly number[] {
  const each = Math.max(3, Math.floor(most ** (1 / lengths.length)));
  return lengths.map((length) => Math.max(1, Math.ceil((length - 1) / (each - 1))));
}

function movesOf(steps: readonly number[]): readonly (readonly number[])[] {
  const still = steps.map(() => 0);
  const moves: number[][] = [];
  steps.forEach((step, i) => {
    for (const a of [step, -step]) {
      moves.push(still.with(i, a));
      for (let j = i + 1; j < steps.length; j++)
        for (const b of [steps[j], -steps[j]]) moves.push(still.with(i, a).with(j, b));
    }
  });
  return moves;
}
