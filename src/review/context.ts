import type { Fit, Observations } from "../model/index.ts";
import {
  factorNamed,
  settingsAsCut,
  settingText,
  type Setting,
  type Settings,
  type Trial,
} from "../trial/index.ts";
import { formatNumber } from "../units/index.ts";
import type { Remark } from "./remark.ts";

/** A run that has readings, with the settings that were really cut. */
export interface CutRun {
  readonly run: number;
  readonly block: number;
  readonly role: string;
  readonly settings: Settings;
}

/** What a check needs to know of a factor; a trial's own factors and those of a table both have it. */
export interface ReviewedFactor {
  readonly name: string;
  readonly kind: "quantity" | "category";
}

/** What a check looks at; each check returns the remarks that it has, most often none. */
export interface ReviewContext {
  /** Null where a plain table is reviewed: there is no plan and no gauge to look at then. */
  readonly trial: Trial | null;
  /** Null before a model has been fitted. */
  readonly fit: Fit | null;
  readonly response: string;
  /** In cutting order; all planned runs while nothing has been read. */
  readonly runs: readonly CutRun[];
  /** How many readings stand behind each of `runs`; all 0 while nothing has been read. */
  readonly readings: readonly number[];
  /** Factors with at least two settings among `runs`. */
  readonly moved: readonly ReviewedFactor[];
  /** A setting as people read it. */
  readonly text: (factor: string, setting: Setting) => string;
  /** Settings that the reader means to use; a check says which of them lie outside what was cut. */
  readonly predictions: readonly Settings[];
}

export type Check = (context: ReviewContext) => readonly Remark[];

/** Gathers what the checks need from a trial; `response` is the fit's own, else the trial's first. */
export function trialContext(trial: Trial, fit: Fit | null, predictions: readonly Settings[]): ReviewContext {
  const response = fit?.response.name ?? trial.spec.responses[0]?.name ?? "";
  const count = new Map<number, number>();
  for (const reading of trial.readings) {
    if (reading.response === response && reading.void === "")
      count.set(reading.run, (count.get(reading.run) ?? 0) + 1);
  }
  const cut = trial.runs.filter(({ run }) => count.has(run));
  const runs = (cut.length > 0 ? cut : trial.runs).map((run) => ({
    run: run.run,
    block: run.block,
    role: run.role,
    settings: settingsAsCut(trial, run),
  }));
  return {
    trial,
    fit,
    response,
    runs,
    readings: runs.map(({ run }) => count.get(run) ?? 0),
    moved: movedAmong(trial.spec.factors, runs),
    text: (factor, setting) => settingText(factorNamed(trial.spec, factor), setting, trial.spec.display),
    predictions,
  };
}

/** The same from a fit alone, such as one of a plain table. */
export function fitContext(fit: Fit, predictions: readonly Settings[]): ReviewContext {
  return { ...observedContext(fit), fit, predictions };
}

/** The same from the rows of a plain table alone. */
export function observedContext({
  rows: given,
  factors,
  response,
}: Pick<Observations, "rows" | "factors" | "response">): ReviewContext {
  const rows = [...given].sort((a, b) => a.order - b.order);
  const runs = rows.map(({ run, block, settings }) => ({ run, block, role: "given", settings }));
  const unit = new Map(factors.map((factor) => [factor.name, factor.unit]));
  return {
    trial: null,
    fit: null,
    response: response.name,
    runs,
    readings: rows.map(({ readings }) => readings),
    moved: movedAmong(factors, runs),
    text: (factor, setting) =>
      typeof setting === "string" ? setting : `${formatNumber(setting)} ${unit.get(factor) ?? ""}`.trimEnd(),
    predictions: [],
  };
}

function movedAmong(factors: readonly ReviewedFactor[], runs: readonly CutRun[]): readonly ReviewedFactor[] {
  return factors.filter(({ name }) => settingsSeen(runs, name).length > 1);
}

/** The different settings of one factor, numbers rising, names in order of appearance. */
export function settingsSeen(runs: readonly CutRun[], factor: string): readonly Setting[] {
  const seen = [...new Set(runs.map(({ settings }) => settings[factor]))];
  return seen.every((setting) => typeof setting === "number") ? seen.sort((a, b) => a - b) : seen;
}

/** True where two runs were cut at the same settings of every factor. */
export function sameSettings(one: Settings, other: Settings): boolean {
  return Object.keys(one).every((factor) => one[factor] === other[factor]);
}
