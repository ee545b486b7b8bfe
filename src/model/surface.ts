import { combined, valuesAt } from "./at-point.ts";
import { columnsAt } from "./design-columns.ts";
import type { Surface } from "./fit.ts";
import type { Solved } from "./solved.ts";
import { symmetricEigen } from "../numerics/index.ts";
import { formatSurface } from "./surface-text.ts";

/** An eigenvalue below this share of the largest bends too little to place a level point. */
const flat = 1e-10;

/**
 * The level point of a surface of second degree and how it bends there (canonical analysis: Box and Wilson 1951; Myers, Montgomery and
 * Anderson-Cook, *Response Surface Methodology*). Categories and blocks are averaged. Null unless every quantity of the model has its
 * square in it, no term is of a higher degree, and factors stand as they are (not as logarithms). On the log scale the surface is that of the logarithm; the value is told as a median.
 */
export function surfaceOf(solved: Solved): Surface | null {
  const { design, solution, observations } = solved;
  const degrees = design.sources.map(({ term }) => Object.entries(term));
  const inModel = design.factors.filter(
    ({ name, kind }) => kind === "quantity" && degrees.some((term) => term.some(([n]) => n === name)),
  );
  const squared = inModel.filter(({ name }) =>
    degrees.some((term) => term.length === 1 && term[0][0] === name && term[0][1] === 2),
  );
  if (design.elementaries.some(({ logarithm }) => logarithm)) return null;
  if (inModel.length === 0 || squared.length < inModel.length) return null;
  if (degrees.some((term) => term.reduce((total, [, degree]) => total + degree, 0) > 2)) return null;
  if (solution.dropped.length > 0) return null;

  const names = inModel.map(({ name }) => name);
  const half = inModel.map(({ high, low }) => (high - low) / 2);
  const place = inModel.map(({ name }) =>
    design.elementaries.findIndex((one) => one.name === name && one.level === undefined),
  );
  const middle = valuesAt(solved, {}, { rest: "average" });
  // A polynomial of second degree gives up its gradient and bend exactly to differences of whole coded steps about the middle.
  const at = (steps: readonly number[]): number => {
    const values = Float64Array.from(middle);
    steps.forEach((step, i) => (values[place[i]] = middle[place[i]] + step * half[i]));
    return combined(solved, columnsAt(design, values)).estimate;
  };
  const unit = (i: number, size: number, j = i, other = 0): number[] =>
    names.map((_, k) => (k === i ? size : 0) + (k === j ? other : 0));
  const centre = at(unit(0, 0));
  const gradient = names.map((_, i) => (at(unit(i, 1)) - at(unit(i, -1))) / 2);
  const bend = names.map((_, i) =>
    names.map((__, j) =>
      i === j
        ? (at(unit(i, 1)) + at(unit(i, -1))) / 2 - centre
        : (at(unit(i, 1, j, 1)) - at(unit(i, 1, j, -1)) - at(unit(i, -1, j, 1)) + at(unit(i, -1, j, -1))) / 8,
    ),
  );
  const { values: eigenvalues, vectors: axes } = symmetricEigen(bend);
  const largest = Math.max(...eigenvalues.map(Math.abs));
  const shape = shapeOf(eigenvalues, largest);
  if (shape === "ridge") {
    const surface = {
      stationary: null,
      value: null,
      eigenvalues,
      axes,
      factors: names,
      shape,
      inside: false,
    } as const;
    return { ...surface, text: formatSurface(surface, solved) };
  }
  // x = −½ B⁻¹ g, by the axes.
  const along = axes.map(
    (axis, a) => -axis.reduce((sum, entry, i) => sum + entry * gradient[i], 0) / (2 * eigenvalues[a]),
  );
  const coded = names.map((_, i) => axes.reduce((sum, axis, a) => sum + axis[i] * along[a], 0));
  const stationary = Object.fromEntries(
    names.map((name, i) => [name, middle[place[i]] + coded[i] * half[i]]),
  );
  const value = at(coded);
  const inside = names.every((name) => {
    const at = stationary[name];
    return (
      observations.rows.some((row) => Number(row.settings[name]) <= at) &&
      observations.rows.some((row) => Number(row.settings[name]) >= at)
    );
  });
  const surface = {
    stationary,
    value: solved.logScale ? Math.exp(value) : value,
    eigenvalues,
    axes,
    factors: names,
    shape,
    inside,
  };
  return { ...surface, text: formatSurface(surface, solved) };
}

function shapeOf(eigenvalues: readonly number[], largest: number): Surface["shape"] {
  if (largest === 0 || eigenvalues.some((value) => Math.abs(value) <= flat * largest)) return "ridge";
  if (eigenvalues.every((value) => value < 0)) return "maximum";
  return eigenvalues.every((value) => value > 0) ? "minimum" : "saddle";
}
