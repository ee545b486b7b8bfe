import { addExactly, multiplyExactly } from "../numerics/index.ts";
import type { DoubleDouble } from "../numerics/index.ts";
import type { Design, Elementary, ModelColumn, Part } from "./design.ts";

/** A column of the fit written in the columns that are told (or the other way round): place and coefficient. */
type Expansion = readonly { readonly column: number; readonly coefficient: DoubleDouble }[];

/**
 * How coefficients of the centred columns become the coefficients that are told: a polynomial is multiplied out, its coefficients
 * in double-double. `null` where a term that the multiplying out makes is not in the model, or stands behind the term that makes it: then
 * the centred columns would fit another model (a square without its line, a fit through the origin).
 */
export interface BasisChange {
  /** For each told column, the fitted columns that add to it. */
  readonly contributions: readonly Expansion[];
  /** For each told column, itself in fitted columns. */
  readonly told: readonly Expansion[];
}

export function basisChange(design: Design): BasisChange | null {
  const places = new Map(design.columns.map((column, place) => [partsKey(column.parts), place]));
  const contributions: { column: number; coefficient: DoubleDouble }[][] = design.columns.map(() => []);
  const told: Expansion[] = [];
  for (const [place, column] of design.columns.entries()) {
    const outward = expansion(column, design, places, place, outwardShift);
    const inward = expansion(column, design, places, place, inwardShift);
    if (outward === null || inward === null) return null;
    for (const { column: to, coefficient } of outward) contributions[to].push({ column: place, coefficient });
    told.push(inward);
  }
  return { contributions, told };
}

/** The same design with nothing centred but what is told centred: for models that the multiplying out would change. */
export function plainDesign(design: Design): Design {
  return {
    ...design,
    elementaries: design.elementaries.map((elementary) => ({ ...elementary, centre: elementary.tellCentre })),
  };
}

/** value − centre = scale × told + shift, and the way back. */
type Shift = (elementary: Elementary) => { readonly scale: DoubleDouble; readonly shift: DoubleDouble };

const outwardShift: Shift = ({ centre, tellCentre, tellScale }) => ({
  scale: exact(tellScale),
  shift: addExactly(exact(tellCentre), exact(-centre)),
});

const inwardShift: Shift = ({ centre, tellCentre, tellScale }) => {
  // 1 / scale is used for terms that can't be told apart only, where plain division is enough.
  const scale = exact(1 / tellScale);
  return { scale, shift: multiplyExactly(addExactly(exact(centre), exact(-tellCentre)), scale) };
};

function expansion(
  column: ModelColumn,
  design: Design,
  places: ReadonlyMap<string, number>,
  place: number,
  shiftOf: Shift,
): Expansion | null {
  let sum: { parts: readonly Part[]; coefficient: DoubleDouble }[] = [{ parts: [], coefficient: exact(1) }];
  for (const { elementary, degree } of column.parts) {
    const factor = binomial(shiftOf(design.elementaries[elementary]), degree);
    sum = sum.flatMap(({ parts, coefficient }) =>
      factor.map((term) => ({
        parts: term.degree === 0 ? parts : [...parts, { elementary, degree: term.degree }],
        coefficient: multiplyExactly(coefficient, term.coefficient),
      })),
    );
  }
  const terms: { column: number; coefficient: DoubleDouble }[] = [];
  for (const { parts, coefficient } of sum) {
    const to = places.get(partsKey(parts));
    if (to === undefined || to > place) return null;
    terms.push({ column: to, coefficient });
  }
  return terms;
}

/** (scale × u + shift)ⁿ by powers of u; one term where nothing is shifted. */
function binomial(
  { scale, shift }: ReturnType<Shift>,
  degree: number,
): { degree: number; coefficient: DoubleDouble }[] {
  const terms: { degree: number; coefficient: DoubleDouble }[] = [];
  let choose = 1;
  for (let power = degree; power >= 0; power--) {
    const coefficient = multiplyExactly(
      exact(choose),
      multiplyExactly(powerOf(scale, power), powerOf(shift, degree - power)),
    );
    if (power === degree || shift.high !== 0) terms.push({ degree: power, coefficient });
    choose = (choose * power) / (degree - power + 1);
  }
  return terms;
}

function powerOf(base: DoubleDouble, degree: number): DoubleDouble {
  let product = exact(1);
  for (let k = 0; k < degree; k++) product = multiplyExactly(product, base);
  return product;
}

function partsKey(parts: readonly Part[]): string {
  return parts
    .map(({ elementary, degree }) => `${elementary}^${degree}`)
    .sort()
    .join(" ");
}

function exact(high: number): DoubleDouble {
  return { high, low: 0 };
}
