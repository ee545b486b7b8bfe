import type { Setting } from "../trial/index.ts";
import type { Quantity } from "../units/index.ts";

/** A stretch of settings, ends included. */
export interface Piece {
  readonly low: number;
  readonly high: number;
}

/** What is wanted of a setting; every default is stated here. */
export interface LargestSettingOptions {
  readonly factor: string;
  /** In the response's unit. */
  readonly limit: number;
  /** Whether the response must stay at most or at least at the limit. Default "at-most". */
  readonly side?: "at-most" | "at-least";
  /** Probability, one-sided, with which the bound holds. From 0.5 (the estimate itself) up to below 1. Default 0.95. */
  readonly assurance?: number;
  /** The mean of all parts to come, or the next part alone (one run, read as the runs of the trial were). Default "next-part". */
  readonly for?: "mean" | "next-part";
  /** Settings of the other factors; those left out stand at their middle or first level. */
  readonly at?: Readonly<Record<string, Setting>>;
  /** Step of the machine: the answer is a multiple of it. Default: none, and the answer is rounded down to three digits. */
  readonly increment?: number;
  /** Search beyond what was cut, up to this setting; the answer is marked as an extrapolation. Default: within what was cut. */
  readonly extrapolate?: number;
  /** Settings are tried in equal steps or equal ratios. Default: the factor's own scale. */
  readonly scale?: "linear" | "log";
}

/** The largest setting that keeps a limit, or why there is none. */
export interface LargestSetting {
  readonly factor: string;
  readonly unit: string;
  readonly limit: number;
  readonly side: "at-most" | "at-least";
  readonly assurance: number;
  readonly for: "mean" | "next-part";
  /**
   * `found` an end within the range; `whole-range` every setting of the range keeps the limit, so the largest may lie beyond;
   * `none` no setting keeps it; `no-bound` the fit has no interval there.
   */
  readonly outcome: "found" | "whole-range" | "none" | "no-bound";
  /** As it can be set on the machine; null where none qualifies. */
  readonly setting: number | null;
  /** Where the bound meets the limit, before rounding down. */
  readonly edge: number | null;
  /** All factors, with the answer; without one, with the setting whose bound comes nearest to the limit. */
  readonly settings: Readonly<Record<string, Setting>>;
  readonly estimate: number;
  /** One-sided bound of the response at `settings`. */
  readonly bound: number | null;
  /** The stretches that keep the limit, rising. More than one: the bound is not one-way over the range. */
  readonly safe: readonly Piece[];
  /** What was searched. */
  readonly range: Piece;
  /** What of the answer lies outside what was cut; empty inside. */
  readonly extrapolation: readonly string[];
  /** Why there is no setting, or what to know about the one there is; empty where all is plain. */
  readonly reason: string;
}

/** What is wanted of recipes; every default is stated here. */
export interface RecipeOptions {
  /** A number in the response's unit, or a quantity. Default: the response's own limit. */
  readonly limit?: number | Quantity;
  /** One-sided, from 0.5 to below 1. Default 0.95. */
  readonly assurance?: number;
  /** The quantity to push. Default: the feed, else the first quantity. */
  readonly factor?: string;
  /** Default: both. */
  readonly for?: "mean" | "next-part";
  /** Settings of other factors. Default: today's where stated, else the middle; every combination of the categories left open. */
  readonly at?: Readonly<Record<string, Setting>>;
  /** Search beyond what was cut, up to this setting, and mark the answer. Default: within what was cut. */
  readonly extrapolate?: number;
  /** What to compare with. Default: the trial's own `today`. */
  readonly today?: Readonly<Record<string, Setting>>;
  /** The side of the limit to keep, where the response has a target. Default: by the response's aim. */
  readonly side?: "at-most" | "at-least";
}

/** Minutes of one pass and removal rate, as far as the trial states what they need. */
export interface PassFigures {
  readonly minutes: number | null;
  readonly removalRateCm3PerMin: number | null;
}

/** A setting that keeps the limit (or why none does), with what it gains. */
export interface Recipe extends LargestSetting, PassFigures {
  readonly responseUnit: string;
  /** The same at today's setting; null where today's setting is not stated. */
  readonly today: (PassFigures & { readonly settings: Readonly<Record<string, Setting>> }) | null;
  /** Minutes, and removal rate, divided by today's. */
  readonly minutesRatio: number | null;
  readonly removalRatio: number | null;
  /** In the shop's words. */
  readonly text: string;
}

/** Recipes, most removal first, with the table that a page shows. */
export interface Recipes {
  readonly recipes: readonly Recipe[];
  readonly table: {
    readonly columns: readonly string[];
    readonly rows: readonly (readonly (string | number | null)[])[];
  };
}
