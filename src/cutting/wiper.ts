import { checkPositive } from "./error.ts";

/**
 * What a wiper flat does at a feed, both in mm, in words: where the flat is longer than the feed it wipes the cusp of the
 * nose radius away, and other causes rule the finish; where it is shorter, part of each cusp stays.
 * Refused: sizes that are not finite and above zero. Source: common practice.
 *
 * @example wiperNote(0.4, 1.2).wipesCusp // true
 */
export function wiperNote(
  feedMm: number,
  wiperFlatMm: number,
): { readonly wipesCusp: boolean; readonly text: string } {
  checkPositive({ feedMm, wiperFlatMm });
  const wipesCusp = wiperFlatMm > feedMm;
  const sizes = `The wiper flat of ${wiperFlatMm} mm is ${wipesCusp ? "longer" : "no longer"} than the feed of ${feedMm} mm`;
  return {
    wipesCusp,
    text: wipesCusp
      ? `${sizes}: the cusp of the nose radius vanishes, and edge, run-out and chatter rule the finish.`
      : `${sizes}: part of each cusp stays, and the flat only lowers it.`,
  };
}
