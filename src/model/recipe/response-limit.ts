import { convert, isUnit, listed } from "../../units/index.ts";
import type { Quantity } from "../../units/index.ts";
import type { Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { LimitFor } from "./limit-for.ts";

export type { LimitFor } from "./limit-for.ts";

/** A limit on one fitted response; every default is stated here. */
export interface LimitAsked {
  /** A number in the response's unit, or a quantity. Default: the response's own limit in the trial. */
  readonly limit?: number | Quantity;
  /** Default: by the response's aim. */
  readonly side?: "at-most" | "at-least";
  /** Default "share". */
  readonly for?: LimitFor;
  /** With `for: "share"`: the share of parts that must keep the limit. Default 0.95. */
  readonly share?: number;
  /** With `for: "next"`: how many parts, each of which must keep it. Default 1. */
  readonly parts?: number;
  /** One-sided probability that the bound holds, from 0.5 to below 1. Default 0.95. */
  readonly assurance?: number;
}

/** A limit, checked, with every choice made. */
export interface ResponseLimit {
  readonly response: string;
  readonly unit: string;
  readonly limit: number;
  readonly side: "at-most" | "at-least";
  readonly for: LimitFor;
  readonly share: number;
  readonly parts: number;
  readonly assurance: number;
  /** Random sources of which each part is taken to bring a fresh level (a day, a set-up), so that their scatter is in the bound; empty by least squares. */
  readonly fresh: readonly string[];
}

/** The limits of several fits of one trial, in the order of the fits. Refuses what can't be kept or meant, with the response named. */
export function responseLimits(
  trial: Trial,
  fits: readonly Fit[],
  asked: Readonly<Record<string, LimitAsked>>,
): readonly ResponseLimit[] {
  const names = fits.map(({ response }) => response.name);
  const doubled = names.find((name, k) => names.indexOf(name) !== k);
  if (doubled !== undefined) throw modelError(`two fits of ${doubled}`, "one fit a response");
  const unknown = Object.keys(asked).find((name) => !names.includes(name));
  if (unknown !== undefined)
    throw modelError(`a limit on "${unknown}", which is not fitted`, `a limit on ${listed(names, "or")}`);
  if (fits.length === 0) throw modelError("no fit", "at least one fitted response with a limit");
  return fits.map((fit) => responseLimit(trial, fit, asked[fit.response.name] ?? {}));
}

function responseLimit({ spec, name: trial }: Trial, fit: Fit, asked: LimitAsked): ResponseLimit {
  const { name, unit } = fit.response;
  const stated = spec.responses.find((one) => one.name === name);
  if (stated === undefined) throw modelError(`a fit of ${name}`, `a response of ${trial}`);
  const { for: whom = "share", share = 0.95, parts = 1, assurance = 0.95 } = asked;
  const given = asked.limit ?? stated.limit;
  if (given === undefined)
    throw modelError(`no limit on ${name}`, "a limit", "State it in the trial's response, or give it.");
  const limit = numberIn(given, unit, name);
  if (!Number.isFinite(limit) || (fit.logScale && !(limit > 0)))
    throw modelError(
      `the limit ${limit} on ${name}`,
      fit.logScale ? "a number above zero, since logarithms were fitted" : "a finite number",
    );
  const side =
    asked.side ?? (stated.aim === "smaller" ? "at-most" : stated.aim === "larger" ? "at-least" : null);
  if (side === null)
    throw modelError(`${name}, which aims at a target`, 'a side of the limit: "at-most" or "at-least"');
  if (!(assurance >= 0.5 && assurance < 1))
    throw modelError(
      `an assurance of ${assurance} for ${name}`,
      "a number from 0.5 to below 1, such as 0.95",
    );
  if (!(share >= 0.5 && share < 1))
    throw modelError(`a share of ${share} for ${name}`, "a number from 0.5 to below 1, such as 0.95");
  if (!Number.isInteger(parts) || parts < 1 || parts > 100_000)
    throw modelError(`${parts} parts for ${name}`, "a whole number from 1 to 100000");
  const fresh = fit.evaluator?.().fresh ?? [];
  return { response: name, unit, limit, side, for: whom, share, parts, assurance, fresh };
}

function numberIn(given: number | Quantity, unit: string, name: string): number {
  if (typeof given === "number") return given;
  if (!isUnit(unit))
    throw modelError(`a limit in ${given.unit} on ${name}`, "a number, since the response has no unit");
  return convert(given.value, given.unit, unit);
}
