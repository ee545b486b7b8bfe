import { symmetricEigen } from "../../numerics/index.ts";
import type { Surface } from "../fit.ts";
import type { Solved } from "../solved.ts";
import type { SecondDegree } from "./second-degree.ts";
import { formatSurface } from "./surface-text.ts";

/** An eigenvalue below this share of the largest bends too little to place a level point. */
const flat = 1e-10;

/**
 * The level point of a surface of second degree and how it bends there (canonical analysis: Box and Wilson 1951; Myers, Montgomery and
 * Anderson-Cook, *Response Surface Methodology*). Categories and blocks are averaged. Null unless every quantity of the model has its
 * square in it. On the log scale the surface is that of the logarithm; the value is told as a median.
 */
export function surfaceOf(solved: Solved, model: SecondDegree | null): Surface | null {
  if (model === null || !model.complete) return null;
  const { gradient, bend } = model;
  const names = model.factors.map(({ name }) => name);
  const { values: eigenvalues, vectors: axes } = symmetricEigen(bend);
  const largest = Math.max(...eigenvalues.map(Math.abs));
  const shape = shapeOf(eigenvalues, largest);
  const common = { eigenvalues, axes, factors: names, shape };
  if (shape === "ridge") {
    const surface = { ...common, stationary: null, value: null, inside: false };
    return { ...surface, text: formatSurface(surface, solved) };
  }
  // x = −½ B⁻¹ g, by the axes.
  const along = axes.map(
    (axis, a) => -axis.reduce((sum, entry, i) => sum + entry * gradient[i], 0) / (2 * eigenvalues[a]),
  );
  const coded = names.map((_, i) => axes.reduce((sum, axis, a) => sum + axis[i] * along[a], 0));
  const stationary = model.settings(coded);
  const value = model.constant + coded.reduce((sum, x, i) => sum + (x * gradient[i]) / 2, 0);
  const { rows } = solved.observations;
  const inside = names.every((name) => {
    const at = stationary[name];
    return (
      rows.some((row) => Number(row.settings[name]) <= at) &&
      rows.some((row) => Number(row.settings[name]) >= at)
    );
  });
  const surface = { ...common, stationary, value: solved.logScale ? Math.exp(value) : value, inside };
  return { ...surface, text: formatSurface(surface, solved) };
}

function shapeOf(eigenvalues: readonly number[], largest: number): Surface["shape"] {
  if (largest === 0 || eigenvalues.some((value) => Math.abs(value) <= flat * largest)) return "ridge";
  if (eigenvalues.every((value) => value < 0)) return "maximum";
  return eigenvalues.every((value) => value > 0) ? "minimum" : "saddle";
}
