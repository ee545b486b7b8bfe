import type { RecipeAsked } from "../finding/index.ts";
import { pushesOf, pushOf, type Fit, type LimitAsked, type LimitFor } from "../model/index.ts";
import type { Response, Setting, Trial } from "../trial/index.ts";
import {
  formatQuantity,
  listed,
  parseNumber,
  parseQuantity,
  quantity,
  valueIn,
  type Dimension,
} from "../units/index.ts";
import { chosenFit } from "./chosen-fit.ts";
import { BenchError, isRefusal, messageOf } from "./error.ts";
import type { RecipeProblem } from "./recipe-api.ts";
import type { RecipeForm } from "./recipe-form.ts";
import { shown } from "./shown.ts";

/** What was typed, by the name of its field; a field that is left out is left to its default. */
export type Typed = Readonly<Record<string, string | undefined>>;

/** What was typed, read: what is asked of a recipe, and what can't stand. */
export interface RecipeRead {
  readonly problems: readonly RecipeProblem[];
  readonly asked: RecipeAsked;
}

/** A recipe's question, with the fits that it is asked of. */
export interface RecipeQuestion extends RecipeRead {
  /** One a response that has a limit, in the trial's order; empty where something typed can't stand. */
  readonly fits: readonly Fit[];
}

/** What the form can ask of a trial. */
export function recipeForm({ spec, runs }: Trial): RecipeForm {
  const { pushes, note } = pushesOf({ spec, runs });
  return {
    responses: spec.responses.map((response) => ({
      name: response.name,
      unit: response.unit,
      stated: response.limit === undefined || response.aim === "target" ? "" : statedText(response, spec),
      asksSide: response.aim === "target",
    })),
    quantities: spec.factors.flatMap((factor) =>
      factor.kind === "quantity" ? [{ name: factor.name, unit: factor.unit }] : [],
    ),
    categories: spec.factors.flatMap((factor) =>
      factor.kind === "category" ? [{ name: factor.name, levels: factor.levels }] : [],
    ),
    pushes,
    pushNote: note,
  };
}

function statedText({ limit = 0, unit, aim }: Response, spec: Trial["spec"]): string {
  const value = formatQuantity(quantity(limit, unit), { system: spec.display });
  return `${aim === "smaller" ? "at most" : "at least"} ${value}`;
}

/** Reads what was typed, as `recipeRead`, and fits what it needs. */
export function recipeQuestion(trial: Trial, typed: Typed): RecipeQuestion {
  const { problems: read, asked } = recipeRead(trial, typed);
  const problems = [...read];
  const fits: Fit[] = [];
  for (const { name } of trial.spec.responses) {
    if (asked.limits[name] === undefined) continue;
    try {
      const model = name === (typed["response"] ?? trial.spec.responses[0]?.name) ? typed["model"] : "";
      fits.push(chosenFit(trial, name, { model: model ?? "", confidence: "" }).fit);
    } catch (error) {
      if (!isRefusal(error)) throw error;
      problems.push({
        field: `limit.${name}`,
        message: `${messageOf(error)} Type "none" to leave ${name} out.`,
      });
    }
  }
  return { problems, asked, fits: problems.length > 0 ? [] : fits };
}

/**
 * Reads what was typed: the limits with whom they must hold for, what stands still, what is pushed and what the map shows. Problems name their field; anything that
 * the library refuses comes later. What is left out stands as the trial has it: its limits (a target is none), each for 95 % of parts.
 */
export function recipeRead(trial: Trial, typed: Typed): RecipeRead {
  const problems: RecipeProblem[] = [];
  const reading = <Value>(field: string, read: (text: string) => Value): Value | undefined => {
    const text = typed[field]?.trim() ?? "";
    if (text === "") return undefined;
    try {
      return read(text);
    } catch (error) {
      if (!isRefusal(error)) throw error;
      problems.push({ field, message: messageOf(error) });
      return undefined;
    }
  };
  const assurance = reading("assurance", (text) => percentIn(text, "assurance")) ?? 0.95;
  const limits: Record<string, LimitAsked> = {};
  for (const response of trial.spec.responses) {
    const { name } = response;
    const text = typed[`limit.${name}`]?.trim() ?? "";
    const count = problems.length;
    const stated = response.aim === "target" ? undefined : response.limit;
    const limit = isNone(text)
      ? undefined
      : (reading(`limit.${name}`, (given) => limitIn(given, response)) ?? stated);
    if (limit === undefined || problems.length > count) continue;
    const share = reading(`share.${name}`, (given) => percentIn(given, "share of parts"));
    const parts = reading(`parts.${name}`, partsIn);
    limits[name] = {
      limit,
      assurance,
      for: whomIn(typed[`for.${name}`]),
      ...(share === undefined ? {} : { share }),
      ...(parts === undefined ? {} : { parts }),
      ...(response.aim === "target"
        ? { side: typed[`side.${name}`] === "at-least" ? ("at-least" as const) : ("at-most" as const) }
        : {}),
    };
  }
  const at = heldIn(trial, reading);
  const objective = pushOf(trial, typed["push"]);
  const { along = "", up = "", of = "" } = typed;
  return {
    problems,
    asked: { limits, at, map: { along, up, of }, ...(objective === undefined ? {} : { objective }) },
  };
}

/** What is asked of the recipe of a published page; refused where something typed can't stand. */
export function recipeTyped(trial: Trial, typed: Typed): RecipeAsked {
  const { problems, asked } = recipeRead(trial, typed);
  if (problems.length > 0) throw refusal(problems.map(({ message }) => message).join(" "));
  return asked;
}

type Reading = <Value>(field: string, read: (text: string) => Value) => Value | undefined;

function isNone(text: string): boolean {
  return /^(?:none|no|off|[-–—])$/i.test(text);
}

function limitIn(text: string, { name, unit }: Response): number {
  try {
    return valueIn<Dimension>(parseQuantity(text, { unit }), unit);
  } catch (error) {
    if (!isRefusal(error)) throw error;
    throw refusal(
      `The limit "${text}" on ${name} can't be read: expected a number in ${unit}, or with a unit of its own, or "none" to leave it out. ${messageOf(error)}`,
    );
  }
}

function whomIn(text: string | undefined): LimitFor {
  return text === "mean" || text === "next" ? text : "share";
}

/** "95", "95 %" and "0.95" all mean 0.95. */
function percentIn(text: string, what: string): number {
  const bare = text.replace("%", "").trim();
  let typed = NaN;
  try {
    typed = parseNumber(bare);
  } catch (error) {
    if (!isRefusal(error)) throw error;
  }
  const share = typed > 1 || text.includes("%") ? typed / 100 : typed;
  if (share >= 0.5 && share < 1) return share;
  throw refusal(`The ${what} "${text}" can't stand: expected from 50 to below 100 %, such as 95.`);
}

function partsIn(text: string): number {
  const parts = /^\d{1,6}$/.test(text) ? Number(text) : NaN;
  if (parts >= 1 && parts <= 100_000) return parts;
  throw refusal(`"${text}" parts can't stand: expected a whole number from 1 to 100000.`);
}

function heldIn({ spec }: Trial, reading: Reading): Readonly<Record<string, Setting>> {
  return Object.fromEntries(
    spec.factors.flatMap((factor): readonly (readonly [string, Setting])[] => {
      const held = reading(`hold.${factor.name}`, (text): Setting => {
        if (factor.kind === "category") {
          if (factor.levels.includes(text)) return text;
          throw refusal(`${factor.name} has no level "${text}": expected ${listed(factor.levels, "or")}.`);
        }
        const value = valueIn<Dimension>(parseQuantity(text, { unit: factor.unit }), factor.unit);
        if (value >= factor.low && value <= factor.high) return value;
        throw refusal(
          `${factor.name} at ${text} lies outside what the trial varies: expected from ${shown(spec, factor.low, factor.unit)} to ${shown(spec, factor.high, factor.unit)}.`,
        );
      });
      return held === undefined ? [] : [[factor.name, held]];
    }),
  );
}

function refusal(message: string): BenchError {
  return new BenchError(422, message);
}
