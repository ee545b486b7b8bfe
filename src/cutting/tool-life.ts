import { checkPositive, CuttingError } from "./error.ts";

/** Taylor's line for one tool, work and end of life: V·Tⁿ = C. */
export interface TaylorLine {
  readonly exponent: number;
  /** The surface speed in m/min that gives one minute of life. */
  readonly speedForOneMinuteMPerMin: number;
}

/** Usual exponents by tool material (from memory; wide scatter). */
export const taylorExponents = [
  { material: "high-speed steel", low: 0.1, high: 0.15 },
  { material: "carbide", low: 0.2, high: 0.3 },
  { material: "ceramic", low: 0.4, high: 0.6 },
] as const;

/** Flank wear in mm at which an edge is taken as used up (ISO 3685 and ISO 8688-1, from memory). */
export const endOfEdgeLife = { averageFlankWearMm: 0.3, largestFlankWearMm: 0.6 } as const;

/**
 * Life of an edge in minutes at a surface speed in m/min: T = (C/V)^(1/n). It holds between the speeds that the line was
 * found at. Refused: sizes that are not finite and above zero. Source: Taylor, On the Art of Cutting Metals, 1907.
 *
 * @example taylorLife(200, { exponent: 0.25, speedForOneMinuteMPerMin: 400 }) // 16 min
 */
export function taylorLife(surfaceSpeedMPerMin: number, line: TaylorLine): number {
  checkPositive({ surfaceSpeedMPerMin, ...line });
  return (line.speedForOneMinuteMPerMin / surfaceSpeedMPerMin) ** (1 / line.exponent);
}

/**
 * Surface speed in m/min at which an edge lasts so many minutes: V = C/Tⁿ. Refused and source as {@link taylorLife}.
 *
 * @example taylorSpeed(16, { exponent: 0.25, speedForOneMinuteMPerMin: 400 }) // 200 m/min
 */
export function taylorSpeed(lifeMinutes: number, line: TaylorLine): number {
  checkPositive({ lifeMinutes, ...line });
  return line.speedForOneMinuteMPerMin / lifeMinutes ** line.exponent;
}

interface Life {
  readonly surfaceSpeedMPerMin: number;
  readonly lifeMinutes: number;
}

/**
 * The line through two observed lives: n = ln(V₁/V₂)/ln(T₂/T₁). Two points carry no interval; fit a power law to more.
 * Refused: equal speeds, and a life that does not fall as the speed rises. Source as {@link taylorLife}.
 *
 * @example taylorLine({ surfaceSpeedMPerMin: 200, lifeMinutes: 16 }, { surfaceSpeedMPerMin: 400, lifeMinutes: 1 }).exponent // 0.25
 */
export function taylorLine(first: Life, second: Life): TaylorLine {
  checkPositive({ ...first });
  checkPositive({ ...second });
  const exponent =
    Math.log(first.surfaceSpeedMPerMin / second.surfaceSpeedMPerMin) /
    Math.log(second.lifeMinutes / first.lifeMinutes);
  if (!Number.isFinite(exponent) || exponent <= 0) {
    throw new CuttingError(
      `Life went from ${first.lifeMinutes} to ${second.lifeMinutes} min between ${first.surfaceSpeedMPerMin} and ` +
        `${second.surfaceSpeedMPerMin} m/min; expected a shorter life at the higher speed. Give two lives at two speeds.`,
    );
  }
  return { exponent, speedForOneMinuteMPerMin: first.surfaceSpeedMPerMin * first.lifeMinutes ** exponent };
}
