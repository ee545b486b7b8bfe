/** A rectangle on the drawing. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Where a text may stand: its box, and how much it is liked (0 best). */
export interface Candidate<T> {
  readonly box: Box;
  readonly cost: number;
  readonly value: T;
}

export function overlap(one: Box, other: Box): number {
  const wide = Math.min(one.right, other.right) - Math.max(one.left, other.left);
  const high = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
  return wide > 0 && high > 0 ? wide * high : 0;
}

function outside(box: Box, room: Box): number {
  const area = (box.right - box.left) * (box.bottom - box.top);
  return area - overlap(box, room);
}

/**
 * The candidate that covers least: of what is already there, and of nothing outside `room`. Deterministic: the first of
 * equals wins. Costs weigh against covered area (square units of the drawing).
 */
export function bestPlace<T>(
  candidates: readonly Candidate<T>[],
  taken: readonly Box[],
  room: Box,
): Candidate<T> | undefined {
  let best: Candidate<T> | undefined;
  let least = Infinity;
  for (const candidate of candidates) {
    let covered = candidate.cost + outside(candidate.box, room) * 20;
    for (const box of taken) covered += overlap(candidate.box, box);
    if (covered < least) {
      least = covered;
      best = candidate;
    }
  }
  return best;
}

/** Boxes around a line through these points, for labels to keep clear of. */
export function boxesAlong(
  points: readonly { readonly x: number; readonly y: number }[],
  thickness: number,
): readonly Box[] {
  return points.slice(1).map((point, index) => {
    const before = points[index];
    return {
      left: Math.min(before.x, point.x),
      right: Math.max(before.x, point.x) + 0.5,
      top: Math.min(before.y, point.y) - thickness,
      bottom: Math.max(before.y, point.y) + thickness,
    };
  });
}
