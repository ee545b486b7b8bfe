import type { NonlinearModel } from "../../numerics/index.ts";
import type { Setting } from "../../trial/index.ts";
import type { Observations, ObservedFactor } from "../observations.ts";

/** How floor and feed marks add up. `quadrature`: Ra² = floor² + (C feed^a …)²; `sum`: Ra = floor + C feed^a …. */
export type FloorForm = "quadrature" | "sum";

/** What one parameter of the law without the floor multiplies: ln of a setting over its middle, or 1 at a level of a category. */
export interface LawPart {
  readonly factor: string;
  /** The level that is set apart from the first; undefined for an exponent. */
  readonly level: string | undefined;
  /** Of the logarithms of a quantity's range, from which `of` counts; 0 for a category. */
  readonly middle: number;
  readonly of: (settings: Readonly<Record<string, Setting>>) => number;
}

/** The law as it is written, an exponent a quantity in the order of the factors, a category as the ratio of its levels: "Ra² = floor² + (C · feed^a · edge)²". */
export function lawText(form: FloorForm, { response, factors }: Observations): string {
  const quantities = factors.filter(({ kind }) => kind === "quantity").map(({ name }) => name);
  const marks = [
    "C",
    ...factors.map(({ name, kind }) =>
      kind === "quantity" ? `${name}^${exponentName(quantities.indexOf(name))}` : name,
    ),
  ].join(" · ");
  return form === "quadrature"
    ? `${response.name}² = floor² + (${marks})²`
    : `${response.name} = floor + ${marks}`;
}

/** "a" for the first quantity; past 26 numbered. */
export function exponentName(place: number): string {
  return place < 26 ? String.fromCharCode(97 + place) : `a${place + 1}`;
}

/** The parts of ln(C feed^a …) after its constant, in the order of the factors. */
export function lawParts(factors: readonly ObservedFactor[]): readonly LawPart[] {
  return factors.flatMap((factor): readonly LawPart[] => {
    if (factor.kind === "category")
      return factor.levels.slice(1).map((level) => ({
        factor: factor.name,
        level,
        middle: 0,
        of: (settings) => (String(settings[factor.name]) === level ? 1 : 0),
      }));
    const middle = (Math.log(factor.low) + Math.log(factor.high)) / 2;
    return [
      {
        factor: factor.name,
        level: undefined,
        middle,
        of: (settings) => Math.log(Number(settings[factor.name])) - middle,
      },
    ];
  });
}

/**
 * The logarithm of the response over `unit` for each row. Parameters: the floor's share (floor², or the floor, over that of the unit), then ln C at the middle of
 * the factors, then one a part. The floor's share runs on below zero, so that a trial without a floor is no edge of the model and its interval
 * keeps its promise there; what lies below zero is told as no floor.
 */
export function floorModel(form: FloorForm, columns: readonly Float64Array[], rows: number): NonlinearModel {
  const twice = form === "quadrature" ? 2 : 1;
  return {
    rows,
    parameters: columns.length + 2,
    evaluate: (at, value, jacobian) => {
      for (let i = 0; i < rows; i++) {
        let law = at[1];
        for (let k = 0; k < columns.length; k++) law += at[k + 2] * columns[k][i];
        const marks = Math.exp(twice * law);
        const whole = at[0] + marks;
        const share = marks / whole;
        value[i] = whole > 0 ? Math.log(whole) / twice : NaN;
        jacobian[i] = 1 / (twice * whole);
        jacobian[rows + i] = share;
        for (let k = 0; k < columns.length; k++) jacobian[(k + 2) * rows + i] = share * columns[k][i];
      }
    },
  };
}

/** The floor behind its share, in the response's unit; nothing below zero. */
export function floorOf(form: FloorForm, share: number, unit: number): number {
  const kept = Math.max(0, share);
  return unit * (form === "quadrature" ? Math.sqrt(kept) : kept);
}

/** The share that a floor has. */
export function shareOf(form: FloorForm, floor: number, unit: number): number {
  return form === "quadrature" ? (floor / unit) ** 2 : floor / unit;
}
