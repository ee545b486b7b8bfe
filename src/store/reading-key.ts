import type { Reading } from "../trial/index.ts";

/** What tells one reading from all others: repeats are numbered at a spot, spots on the surface of a run. */
export type ReadingKey = Pick<Reading, "run" | "response" | "spot" | "repeat">;

export function keyText({ run, response, spot, repeat }: ReadingKey): string {
  return `${run}/${response}/${spot}/${repeat}`;
}

/** "run 3, Ra, spot 1, repeat 2". */
export function keyWords({ run, response, spot, repeat }: ReadingKey): string {
  return `run ${run}, ${response}, spot ${spot}, repeat ${repeat}`;
}

/** Counts on from the readings that are there: the next free repeat at a spot. Keeps count of what it gave out. */
export function repeatCounter(readings: readonly ReadingKey[]): (at: Omit<ReadingKey, "repeat">) => number {
  const last = new Map<string, number>();
  const spotOf = ({ run, response, spot }: Omit<ReadingKey, "repeat">): string =>
    `${run}/${response}/${spot}`;
  readings.forEach((reading) =>
    last.set(spotOf(reading), Math.max(last.get(spotOf(reading)) ?? 0, reading.repeat)),
  );
  return (at) => {
    const next = (last.get(spotOf(at)) ?? 0) + 1;
    last.set(spotOf(at), next);
    return next;
  };
}
