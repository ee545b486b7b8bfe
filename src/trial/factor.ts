import type { UnitName } from "../units/index.ts";

/** A factor that is measured: feed, speed, depth. Numbers are in `unit`. */
export interface QuantityFactor {
  readonly kind: "quantity";
  readonly name: string;
  readonly unit: UnitName;
  readonly low: number;
  readonly high: number;
  /** On a `log` scale, coded distances are ratios: the coded middle is the geometric mean. */
  readonly scale: "linear" | "log";
  /** The settings to cut, when they are given; in rising order. */
  readonly levels?: readonly number[];
  /** The smallest step that the machine can set. */
  readonly increment?: number;
  readonly change: "easy" | "hard";
}

/** A factor with named levels: edge, coolant. The first level is the one that others are compared with. */
export interface CategoryFactor {
  readonly kind: "category";
  readonly name: string;
  readonly levels: readonly string[];
  readonly change: "easy" | "hard";
}

export type Factor = QuantityFactor | CategoryFactor;

/** A number in the factor's unit, or the name of a level. */
export type Setting = number | string;

/** One setting for each factor, by the factor's name. */
export type Settings = Readonly<Record<string, Setting>>;
