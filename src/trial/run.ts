import type { Setting, Settings } from "./factor.ts";

/** Why a run is in the plan. */
export type RunRole =
  "corner" | "level" | "centre" | "axial" | "edge" | "anchor" | "given" | "added" | "proof";

/** One run of a plan. */
export interface Run {
  /** Place in cutting order, from 1. */
  readonly run: number;
  /** Place in the layout's standard order, from 1. */
  readonly standard: number;
  /** From 1. */
  readonly block: number;
  readonly role: RunRole;
  readonly settings: Settings;
  /** Numbers as they were typed, by factor, where that is not how a program would write them ("0.10"). */
  readonly texts?: Readonly<Record<string, string>>;
  /**
   * The whole plot in which the run stands, from 1 in cutting order: runs of one number share one set-up of the factors that
   * are hard to change. Left out where no factor is hard to change.
   */
  readonly wholePlot?: number;
}

/** A run that was cut otherwise than planned; analysis uses what was cut. */
export interface AsCut {
  readonly run: number;
  readonly factor: string;
  readonly value: Setting;
  readonly unit: string;
  readonly reason: string;
  /** The number as it was typed, where that is not how a program would write it ("0.10"). */
  readonly text?: string;
}

/** One value read at one spot after one run. */
export interface Reading {
  readonly run: number;
  readonly response: string;
  readonly value: number;
  readonly unit: string;
  /** Where on the surface, from 1: another spot is another place on the same surface. */
  readonly spot: number;
  /** Which reading at that spot, from 1. */
  readonly repeat: number;
  /** ISO 8601 time, or empty where it is not known. */
  readonly taken: string;
  readonly note: string;
  /** The reason why the reading is not used; empty for a reading in use. Voided readings stay in the file. */
  readonly void: string;
  /** The number as it was typed, where that is not how a program would write it ("0.80", "0,8"). */
  readonly text?: string;
}
