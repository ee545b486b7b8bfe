import {
  codedValue,
  naturalValue,
  type Factor,
  type QuantityFactor,
  type Setting,
} from "../../trial/index.ts";
import { categoryBasis } from "../coded-columns.ts";
import { LayoutError } from "../error.ts";
import { settable, settingAt, tidied } from "../levels.ts";

/**
 * One factor as the search sees it. A coordinate is a coded place (−1 low … +1 high) of a quantity, or the number of a
 * category's level, from 0.
 */
export interface Axis {
  readonly factor: Factor;
  /** The coordinates that a search tries first, rising. */
  readonly candidates: Float64Array;
  /** What else may be taken: any place between the candidates, the machine's steps between them, or nothing. */
  readonly between: "any" | "steps" | "nothing";
  /** Exponents of the functions of a quantity in the model. */
  readonly powers: Int32Array;
  /** Values of the functions of a category, function by function, level by level. */
  readonly basis: readonly (readonly number[])[];
  readonly functionCount: number;
  /** Values of all functions at each candidate, candidate by candidate. */
  readonly table: Float64Array;
}

/** Candidates of a quantity without levels or increments where the model bends. */
const GRID = 11;
/** Where the model is straight, and its ends are not certain to be best. */
const STRAIGHT_GRID = 5;
/** Where the machine's steps are finer, so many are tried first, evenly spaced; the search ends on its neighbours. */
const MOST_STEPS = 41;

/** The axis of a factor whose functions in the model have these keys ("power 2", "basis 0"). */
export function axisOf(
  factor: Factor,
  keys: readonly string[],
  { endsAreBest }: { readonly endsAreBest: boolean },
): Axis {
  const numbers = keys.map((key) => Number(key.split(" ")[1]));
  if (factor.kind === "category") {
    const basis = categoryBasis(factor.levels.length);
    return withTable({
      factor,
      candidates: Float64Array.from(factor.levels, (_, level) => level),
      between: "nothing",
      powers: new Int32Array(0),
      basis: numbers.map((number) => basis[number] ?? []),
      functionCount: keys.length,
    });
  }
  const straight = numbers.every((power) => power < 2);
  return withTable({
    factor,
    ...candidatesOf(factor, straight, endsAreBest),
    powers: Int32Array.from(numbers),
    basis: [],
    functionCount: keys.length,
  });
}

function withTable(axis: Omit<Axis, "table">): Axis {
  const table = new Float64Array(axis.candidates.length * axis.functionCount);
  axis.candidates.forEach((coordinate, place) =>
    fillFunctions(axis, coordinate, table, place * axis.functionCount),
  );
  return { ...axis, table };
}

function candidatesOf(
  factor: QuantityFactor,
  straight: boolean,
  endsAreBest: boolean,
): Pick<Axis, "candidates" | "between"> {
  if (factor.levels) {
    return {
      candidates: Float64Array.from(factor.levels, (level) => codedValue(factor, level)),
      between: "nothing",
    };
  }
  if (factor.increment !== undefined) return stepped(factor, factor.increment);
  // f(x)f(x)′ is convex in a coordinate that the model is straight in, and so is the determinant: its ends are best.
  if (straight && endsAreBest) return { candidates: Float64Array.of(-1, 1), between: "nothing" };
  return { candidates: evenly(straight ? STRAIGHT_GRID : GRID), between: "any" };
}

function evenly(count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, index) => (2 * index - (count - 1)) / (count - 1));
}

function stepped(factor: QuantityFactor, increment: number): Pick<Axis, "candidates" | "between"> {
  const [first, last] = stepRange(factor, increment);
  if (last <= first) {
    throw new LayoutError(
      `${factor.name}: fewer than two multiples of the increment ${increment} lie between ${factor.low} and ${factor.high}. Make the increment smaller.`,
    );
  }
  const count = Math.min(MOST_STEPS, last - first + 1);
  const coded = Array.from({ length: count }, (_, index) =>
    codedValue(factor, tidied(Math.round(first + (index * (last - first)) / (count - 1)) * increment)),
  );
  return {
    candidates: Float64Array.from(coded),
    between: last - first + 1 > count ? "steps" : "nothing",
  };
}

/** The first and last whole number of increments in the range; the slack takes up 0.3 / 0.1 = 2.9999… */
function stepRange({ low, high }: QuantityFactor, increment: number): readonly [number, number] {
  return [Math.ceil(low / increment - 1e-8), Math.floor(high / increment + 1e-8)];
}

/** The machine's step at or below a coded place (`up` 0) or the one above it (`up` 1), coded. */
export function stepNear(axis: Axis, coded: number, up: 0 | 1): number {
  const { factor } = axis;
  if (factor.kind !== "quantity" || factor.increment === undefined) return coded;
  const [first, last] = stepRange(factor, factor.increment);
  const step = Math.floor(naturalValue(factor, coded) / factor.increment + 1e-8) + up;
  return codedValue(factor, tidied(Math.min(last, Math.max(first, step)) * factor.increment));
}

/** Values of the axis's functions at a coordinate, into `out` from `at`. */
export function fillFunctions(
  axis: Pick<Axis, "powers" | "basis">,
  coordinate: number,
  out: Float64Array,
  at: number,
): void {
  const { powers, basis } = axis;
  for (let m = 0; m < powers.length; m += 1) {
    let value = coordinate;
    for (let power = powers[m]; power > 1; power -= 1) value *= coordinate;
    out[at + m] = value;
  }
  for (let m = 0; m < basis.length; m += 1) out[at + m] = basis[m][coordinate];
}

/** The setting at a coordinate, in the factor's unit or as the level's name. */
export function settingOf(axis: Axis, coordinate: number): Setting {
  const { factor } = axis;
  if (factor.kind === "category") return factor.levels[coordinate] ?? "";
  if (factor.levels) {
    const distances = factor.levels.map((level) => Math.abs(codedValue(factor, level) - coordinate));
    return factor.levels[distances.indexOf(Math.min(...distances))] ?? 0;
  }
  return factor.increment === undefined
    ? settingAt(factor, coordinate)
    : settable(factor, naturalValue(factor, coordinate));
}

/** The coordinate of a setting, which may lie outside the range. */
export function coordinateOf(axis: Axis, setting: Setting): number {
  const { factor } = axis;
  return factor.kind === "category"
    ? factor.levels.indexOf(String(setting))
    : codedValue(factor, Number(setting));
}

/** Of a range, the share to which settings found between candidates are rounded: far finer than what it costs shows. */
const FIGURES = 1e-4;

/** Coordinates near a place between candidates whose settings have few figures: the nearest first. */
export function roundCoordinates(axis: Axis, coordinate: number): readonly number[] {
  const { factor } = axis;
  if (axis.between !== "any" || factor.kind !== "quantity" || Math.abs(coordinate) === 1) return [coordinate];
  const step = 10 ** Math.floor(Math.log10((factor.high - factor.low) * FIGURES));
  const natural = naturalValue(factor, coordinate);
  const near = [Math.floor(natural / step), Math.ceil(natural / step)]
    .map((count) => tidied(count * step))
    .sort((one, other) => Math.abs(one - natural) - Math.abs(other - natural))
    .filter((value) => value >= factor.low && value <= factor.high);
  return [...near.map((value) => codedValue(factor, value)), coordinate];
}
