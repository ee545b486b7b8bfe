import { checkNotNegative, checkPositive } from "./error.ts";

/** How to set the gauge: cut-off, evaluation length over five sampling lengths, short-wave cut-off, largest tip. */
export interface CutoffAdvice {
  readonly cutoffMm: number;
  readonly evaluationMm: number;
  readonly shortCutoffUm: number;
  readonly tipRadiusUm: number;
}

/** Advice and why it is so; null, and the reason, where the tables give none. */
export interface CutoffAnswer {
  readonly advice: CutoffAdvice | null;
  readonly reason: string;
}

// ISO 4288:1996 tables 1 to 3 and ISO 3274 table 1 (from memory): cut-off, λs, tip, upper ends of the ranges of RSm and Ra.
const rows = [
  { cutoffMm: 0.08, shortCutoffUm: 2.5, tipRadiusUm: 2, spacingToMm: 0.04, raToUm: 0.02 },
  { cutoffMm: 0.25, shortCutoffUm: 2.5, tipRadiusUm: 2, spacingToMm: 0.13, raToUm: 0.1 },
  { cutoffMm: 0.8, shortCutoffUm: 2.5, tipRadiusUm: 2, spacingToMm: 0.4, raToUm: 2 },
  { cutoffMm: 2.5, shortCutoffUm: 8, tipRadiusUm: 5, spacingToMm: 1.3, raToUm: 10 },
  { cutoffMm: 8, shortCutoffUm: 25, tipRadiusUm: 10, spacingToMm: 4, raToUm: 80 },
] as const;

const smallestSpacingMm = 0.013;
const smallestRaUm = 0.006;

/**
 * Cut-off for a surface whose marks repeat (turned, face-milled, fly-cut) by their spacing RSm in mm: the feed per
 * revolution where one edge rules, the feed per tooth where all teeth cut alike. A spacing on a border takes the shorter
 * cut-off. None outside 0.013 to 4 mm. Refused: a spacing not above zero.
 * Source: ISO 4288:1996 table 3; λs and tip from ISO 3274 (both from memory).
 *
 * @example cutoffForSpacing(0.5).advice // { cutoffMm: 2.5, evaluationMm: 12.5, shortCutoffUm: 8, tipRadiusUm: 5 }
 */
export function cutoffForSpacing(spacingMm: number): CutoffAnswer {
  checkPositive({ spacingMm });
  const found = spacingMm > smallestSpacingMm ? rows.find((row) => spacingMm <= row.spacingToMm) : undefined;
  if (found === undefined) {
    return {
      advice: null,
      reason: `Marks ${spacingMm} mm apart are outside the table (above 0.013 mm, up to 4 mm): choose a cut-off of at least five spacings.`,
    };
  }
  return advised(
    found,
    `Marks ${spacingMm} mm apart repeat, so the cut-off follows their spacing (ISO 4288 table 3).`,
  );
}

/**
 * Cut-off for a surface without a repeating mark (ground, lapped, worn) by its Ra in µm. For feed marks use
 * {@link cutoffForSpacing}. An Ra on a border takes the shorter cut-off. None outside 0.006 to 80 µm. Refused: a negative Ra.
 * Source: ISO 4288:1996 table 1; λs and tip from ISO 3274 (both from memory).
 *
 * @example cutoffForRa(0.8).advice // { cutoffMm: 0.8, evaluationMm: 4, shortCutoffUm: 2.5, tipRadiusUm: 2 }
 */
export function cutoffForRa(raUm: number): CutoffAnswer {
  checkNotNegative({ raUm });
  const found = raUm > smallestRaUm ? rows.find((row) => raUm <= row.raToUm) : undefined;
  if (found === undefined)
    return {
      advice: null,
      reason: `Ra ${raUm} µm is outside the table (above 0.006 µm, up to 80 µm): agree a cut-off with the reader.`,
    };
  return advised(
    found,
    `Without repeating marks the cut-off follows Ra, here ${raUm} µm (ISO 4288 table 1).`,
  );
}

/**
 * Whether a cut-off in mm suits marks of a spacing in mm, in words; null where it does. Too short a cut-off filters part
 * of the feed mark away and reads too smooth; too long a one lets waviness in. Source as {@link cutoffForSpacing}.
 *
 * @example cutoffRemark(0.8, 0.5) // "A cut-off of 0.8 mm is too short for marks 0.5 mm apart: …"
 */
export function cutoffRemark(cutoffMm: number, spacingMm: number): string | null {
  checkPositive({ cutoffMm });
  const { advice, reason } = cutoffForSpacing(spacingMm);
  if (advice === null) return reason;
  const wanted = advice.cutoffMm;
  if (wanted === cutoffMm) return null;
  const marks = `marks ${spacingMm} mm apart`;
  const use = `Use ${wanted} mm over ${advice.evaluationMm} mm (ISO 4288).`;
  return cutoffMm < wanted
    ? `A cut-off of ${cutoffMm} mm is too short for ${marks}: part of the mark is filtered away and the surface reads too smooth. ${use}`
    : `A cut-off of ${cutoffMm} mm is longer than ${marks} need: waviness is read as roughness. ${use}`;
}

function advised(row: (typeof rows)[number], reason: string): CutoffAnswer {
  const { cutoffMm, shortCutoffUm, tipRadiusUm } = row;
  return { advice: { cutoffMm, evaluationMm: 5 * cutoffMm, shortCutoffUm, tipRadiusUm }, reason };
}
