import type { UnitName } from "../units/index.ts";
import type { Factor } from "./factor.ts";
import type { AddedRuns } from "./added.ts";
import type { AsCut, Reading, Run } from "./run.ts";

/** What is read after each run. */
export interface Response {
  readonly name: string;
  readonly unit: UnitName;
  readonly aim: "smaller" | "larger" | "target";
  /** In `unit`; the value that must be kept (`aim` says on which side), or the target. */
  readonly limit?: number;
}

/** `trial.json`, checked. Quantities written as text ("80 mm") stay as the text that the owner typed. */
export interface TrialSpec {
  readonly format: "trycut-trial/1";
  readonly title: string;
  readonly question: string;
  readonly dataKind: "measured" | "published" | "invented";
  readonly source: string;
  readonly display: "metric" | "inch";
  readonly factors: readonly Factor[];
  readonly responses: readonly Response[];
  /** The options of a kind are checked by the kind's own file in `layout/`. */
  readonly layout: { readonly kind: string } & Readonly<Record<string, unknown>>;
  /** What stays still: name to text, such as depth to "0.1 mm". */
  readonly held: Readonly<Record<string, string>>;
  readonly cutter?: CutterSpec;
  readonly machine?: MachineSpec;
  readonly pass?: PassSpec;
  readonly budget?: BudgetSpec;
  readonly measurement?: MeasurementSpec;
  /** Today's setting, against which a recipe is compared. */
  readonly today?: Readonly<Record<string, number | string>>;
}

export interface CutterSpec {
  readonly diameter?: string;
  readonly noseRadius?: string;
  readonly teeth?: number;
  readonly maxSpeed?: string;
  readonly wiper?: string;
}

export interface MachineSpec {
  readonly maxSpeed?: string;
  readonly maxFeedSpeed?: string;
}

export interface PassSpec {
  readonly length?: string;
  readonly width?: string;
  readonly approach?: string;
  readonly overtravel?: string;
  readonly kind?: "milling" | "turning";
}

export interface BudgetSpec {
  readonly passes?: number;
  readonly minutes?: number;
  readonly stock?: string;
  readonly edges?: number;
  /** Minutes between two passes: setting, cleaning, reading. Default 0. */
  readonly minutesBetween?: number;
}

export interface MeasurementSpec {
  readonly cutoff?: string;
  readonly tipRadius?: string;
  readonly across?: "lay" | "along";
}

/** A trial as it stands on disk: the plan, what was cut otherwise, what was read. */
export interface Trial {
  /** The folder's own name. */
  readonly name: string;
  readonly spec: TrialSpec;
  /** In cutting order; empty until the trial is laid out. */
  readonly runs: readonly Run[];
  readonly asCut: readonly AsCut[];
  /** In the order in which they were taken, voided ones included. */
  readonly readings: readonly Reading[];
  /** Runs that were added later, as the journal tells it; left out where there is no journal to tell. */
  readonly added?: readonly AddedRuns[];
  /** SHA-256 over spec, plan, as-cut and readings, in hexadecimal. */
  readonly checksum: string;
}
