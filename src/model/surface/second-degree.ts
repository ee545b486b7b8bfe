import { combined, valuesAt } from "../at-point.ts";
import { columnsAt } from "../design-columns.ts";
import type { ObservedFactor } from "../observations.ts";
import type { Solved } from "../solved.ts";

/**
 * A model of first or second degree as what it is in coded quantities x (−1 to +1 over their range; logarithms where the model takes them): constant + gradient · x
 * + x′ bend x, categories and blocks averaged, on the scale that was fitted. Estimates stand in one list, `estimates`, in the order constant, gradient, then
 * the bend's upper triangle row by row; `covariance` belongs to that list.
 */
export interface SecondDegree {
  readonly factors: readonly ObservedFactor[];
  readonly constant: number;
  readonly gradient: readonly number[];
  /** Symmetric: an interaction stands in two places with half of its coefficient each. */
  readonly bend: readonly (readonly number[])[];
  readonly estimates: readonly number[];
  /** Null where no error is left. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** Of the scatter behind `covariance`; with random sources the fewest of any estimate. */
  readonly df: number;
  /** True where any square or product is in the model. */
  readonly bends: boolean;
  /** True where every quantity of the model has its square in it. */
  readonly complete: boolean;
  /** Settings at coded places, in the factors' own units. */
  readonly settings: (coded: readonly number[]) => Readonly<Record<string, number>>;
  readonly coded: (settings: Readonly<Record<string, number>>) => readonly number[];
}

/** The list of `estimates` as names of what they multiply: [] the constant, [i] the gradient, [i, j] the bend. */
export function placesOf(count: number): readonly (readonly number[])[] {
  const places: (readonly number[])[] = [[]];
  for (let i = 0; i < count; i++) places.push([i]);
  for (let i = 0; i < count; i++) for (let j = i; j < count; j++) places.push([i, j]);
  return places;
}

/** Null where the model holds no quantity, a term of a higher degree, or terms that the runs can't tell apart. */
export function secondDegreeOf(solved: Solved): SecondDegree | null {
  const { design, solution, variance } = solved;
  const terms = design.sources.map(({ term }) => Object.entries(term));
  const factors = design.factors.filter(
    ({ name, kind }) => kind === "quantity" && terms.some((term) => term.some(([n]) => n === name)),
  );
  if (factors.length === 0 || solution.dropped.length > 0) return null;
  const quantities = new Set(factors.map(({ name }) => name));
  const degree = (term: (typeof terms)[number]) =>
    term.reduce((total, [name, power]) => total + (quantities.has(name) ? power : 0), 0);
  if (terms.some((term) => degree(term) > 2)) return null;

  const place = factors.map(({ name }) =>
    design.elementaries.findIndex((one) => one.name === name && one.level === undefined),
  );
  const logarithm = place.map((at) => design.elementaries[at].logarithm);
  const half = factors.map(({ low, high }, i) =>
    logarithm[i] ? Math.log(high / low) / 2 : (high - low) / 2,
  );
  if (half.some((width) => !(width > 0))) return null;
  const middle = valuesAt(solved, {}, { rest: "average" });
  const pointOf = (coded: readonly number[]): Float64Array => {
    const values = Float64Array.from(middle);
    coded.forEach((step, i) => (values[place[i]] = middle[place[i]] + step * half[i]));
    return columnsAt(design, values);
  };
  const functionals = differences(factors.length, pointOf);
  const estimates = functionals.map((weights) => combined(solved, weights).estimate);
  const cross = (a: Float64Array, b: Float64Array): number => {
    const { kept, rank, inverseCross } = solution;
    let total = 0;
    for (let i = 0; i < rank; i++) {
      if (a[kept[i]] === 0) continue;
      for (let j = 0; j < rank; j++) total += a[kept[i]] * inverseCross[i * rank + j] * b[kept[j]];
    }
    return total;
  };
  const covariance =
    variance === null ? null : functionals.map((a) => functionals.map((b) => variance * cross(a, b)));
  const count = factors.length;
  const places = placesOf(count);
  const bend = Array.from({ length: count }, () => new Array<number>(count).fill(0));
  places.forEach(([i, j], k) => {
    if (j === undefined) return;
    bend[i][j] = estimates[k];
    bend[j][i] = estimates[k];
  });
  const squared = (name: string) =>
    terms.some((term) => term.length === 1 && term[0][0] === name && term[0][1] === 2);
  return {
    factors,
    constant: estimates[0],
    gradient: estimates.slice(1, count + 1),
    bend,
    estimates,
    covariance,
    df: dfOf(solved, functionals),
    bends: terms.some((term) => degree(term) === 2),
    complete: factors.every(({ name }) => squared(name)),
    settings: (coded) =>
      Object.fromEntries(
        factors.map(({ name }, i) => {
          const value = middle[place[i]] + coded[i] * half[i];
          return [name, logarithm[i] ? Math.exp(value) : value];
        }),
      ),
    coded: (settings) =>
      factors.map(({ name }, i) => {
        const value = settings[name];
        return ((logarithm[i] ? Math.log(value) : value) - middle[place[i]]) / half[i];
      }),
  };
}

/** With random sources each estimate has degrees of freedom of its own: the fewest, so that nothing is claimed too surely. */
function dfOf({ solution, mixed: random }: Solved, functionals: readonly Float64Array[]): number {
  if (random === undefined) return solution.df;
  return Math.min(
    ...functionals.map((weights) => random.contrast(Float64Array.from(solution.kept, (k) => weights[k])).df),
  );
}

/**
 * What to weigh the model's columns with to get each estimate. A polynomial of second degree gives up its gradient and bend exactly to
 * differences of whole coded steps about the middle.
 */
function differences(
  count: number,
  pointOf: (coded: readonly number[]) => Float64Array,
): readonly Float64Array[] {
  const at = (...steps: readonly (readonly [number, number])[]) => {
    const coded = new Array<number>(count).fill(0);
    for (const [i, step] of steps) coded[i] += step;
    return pointOf(coded);
  };
  const centre = at();
  return placesOf(count).map(([i, j]) => {
    if (i === undefined) return centre;
    if (j === undefined) return mixed([at([i, 1]), 0.5], [at([i, -1]), -0.5]);
    if (i === j) return mixed([at([i, 1]), 0.5], [at([i, -1]), 0.5], [centre, -1]);
    return mixed(
      [at([i, 1], [j, 1]), 0.125],
      [at([i, 1], [j, -1]), -0.125],
      [at([i, -1], [j, 1]), -0.125],
      [at([i, -1], [j, -1]), 0.125],
    );
  });
}

function mixed(...parts: readonly (readonly [Float64Array, number])[]): Float64Array {
  return parts[0][0].map((_, k) => parts.reduce((sum, [point, weight]) => sum + weight * point[k], 0));
}
