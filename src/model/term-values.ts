import type { Fit } from "./fit.ts";
import type { Setting } from "../trial/index.ts";
import type { Term } from "./term.ts";

/** Where a fit is asked about: settings by factor, those left out averaged (levels evenly weighted, a quantity in its middle), and the block, or all of them. */
export interface Place {
  readonly settings: Readonly<Record<string, Setting>>;
  readonly block?: number;
}

/** The value, at a place, of a term that a coefficient of the fit is told for. */
export function termValue(fit: Fit, term: Term, place: Place): number {
  let product = 1;
  for (const [key, degree] of Object.entries(term)) product *= partValue(fit, key, place) ** degree;
  return product;
}

/** The columns that the fit's coefficients are told for, blocks included, one list a row. */
export function toldMatrix(fit: Fit): readonly Float64Array[] {
  return fit.rows.map((row) => Float64Array.from(fit.coefficients, ({ term }) => termValue(fit, term, row)));
}

/** What settings and blocks say of each row, without what the levels of random sources add; on the scale that was fitted. */
export function fixedValues(fit: Fit): readonly number[] {
  return toldMatrix(fit).map((row) =>
    row.reduce((sum, value, k) => sum + value * fit.coefficients[k].estimate, 0),
  );
}

function partValue(fit: Fit, key: string, { settings, block }: Place): number {
  const factor = fit.factors.find(({ name }) => key === name || key.startsWith(`${name}=`));
  if (factor === undefined) return blockValue(fit, key, block);
  const setting = Object.hasOwn(settings, factor.name) ? settings[factor.name] : undefined;
  if (factor.kind === "category") {
    if (setting === undefined) return 1 / factor.levels.length;
    return String(setting) === key.slice(factor.name.length + 1) ? 1 : 0;
  }
  const scale = fit.kind === "power-law" ? Math.log : (value: number): number => value;
  const [low, high] = [scale(factor.low), scale(factor.high)];
  // The middle of a factor on a scale of ratios is the geometric one.
  const geometric = factor.scale === "log" && fit.kind !== "power-law" && low > 0;
  const middle = geometric ? Math.sqrt(low) * Math.sqrt(high) : (low + high) / 2;
  const value = setting === undefined ? middle : scale(Number(setting));
  if (fit.scale === "natural") return value;
  const half = (high - low) / 2;
  return (value - (low + high) / 2) / (half > 0 ? half : 1);
}

/** Blocks are told about their mean, so that all of them together count for nothing. */
function blockValue({ blocks }: Fit, key: string, block: number | undefined): number {
  if (blocks === null || block === undefined) return 0;
  const here = key === `${blocks.name}=${blocks.levels[block - 1]}` ? 1 : 0;
  return here - 1 / blocks.levels.length;
}
