import { checkNotNegative } from "./error.ts";

/** A roughness grade and its Ra in both systems; the microinches are the nominal ones, not exact conversions. */
export interface FinishGrade {
  readonly grade: string;
  readonly raUm: number;
  readonly nominalRaMicroinch: number;
}

/** Source: ISO 1302, grade numbers (from memory). 0.8 µm is 31.5 µin exactly; the nominal figure is 32. */
export const finishGrades: readonly FinishGrade[] = Object.freeze(
  (
    [
      ["N1", 0.025, 1],
      ["N2", 0.05, 2],
      ["N3", 0.1, 4],
      ["N4", 0.2, 8],
      ["N5", 0.4, 16],
      ["N6", 0.8, 32],
      ["N7", 1.6, 63],
      ["N8", 3.2, 125],
      ["N9", 6.3, 250],
      ["N10", 12.5, 500],
      ["N11", 25, 1000],
      ["N12", 50, 2000],
    ] as const
  ).map(([grade, raUm, nominalRaMicroinch]) => Object.freeze({ grade, raUm, nominalRaMicroinch })),
);

/**
 * The finest grade that an Ra in µm keeps: the first whose limit is not below it. Null where Ra is above 50 µm, which is
 * coarser than N12. To ask it for a measured surface, give the upper bound of its interval and not the mean.
 * Refused: a negative Ra or one that is not finite. Source: ISO 1302 (from memory).
 *
 * @example gradeFor(0.75)?.grade // "N6"
 */
export function gradeFor(raUm: number): FinishGrade | null {
  checkNotNegative({ raUm });
  return finishGrades.find((grade) => raUm <= grade.raUm) ?? null;
}
