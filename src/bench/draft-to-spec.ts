import { kinds } from "../layout/index.ts";
import { parseTrialSpec, TrialError, type Factor, type TrialSpec } from "../trial/index.ts";
import {
  parseNumber,
  parseQuantity,
  parseUnit,
  valueIn,
  type Dimension,
  type UnitName,
} from "../units/index.ts";
import type { DraftProblem } from "./api.ts";
import type { Draft, FactorDraft } from "./draft.ts";
import { nested, optionJson } from "./layout-option.ts";
import { Slips } from "./slips.ts";
import { splitNames, splitNumbers } from "./typed-list.ts";

/** An object without the entries that were left empty. */
function filled(entries: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(entries).filter(([, value]) => value !== undefined && value !== ""),
  );
}

function numberIn(slips: Slips, field: string, text: string, unit: UnitName): number | undefined {
  if (text.trim() === "") return undefined;
  return slips.try(field, () => valueIn<Dimension>(parseQuantity(text, { unit }), unit));
}

function unitOf(slips: Slips, field: string, text: string, of: string): UnitName | undefined {
  if (text.trim() === "") return slips.missing(field, `The unit of ${of}.`);
  return slips.try(field, () => parseUnit(text));
}

function factorJson(slips: Slips, factor: FactorDraft, index: number): Record<string, unknown> {
  const field = (name: string) => `factors.${index}.${name}`;
  const called = factor.name.trim() === "" ? `factor ${index + 1}` : factor.name.trim();
  if (factor.name.trim() === "") slips.missing(field("name"), `The name of factor ${index + 1}.`);
  const common = { kind: factor.kind, name: factor.name.trim(), change: factor.change };
  if (factor.kind === "category") {
    const levels = splitNames(factor.levels);
    if (levels.length < 2) slips.missing(field("levels"), `At least two levels of ${called}.`);
    return { ...common, levels };
  }
  const unit = unitOf(slips, field("unit"), factor.unit, called);
  const number = (name: "low" | "high" | "increment") =>
    unit === undefined ? undefined : numberIn(slips, field(name), factor[name], unit);
  const levels = splitNumbers(factor.levels)
    .map((text) => (unit === undefined ? undefined : numberIn(slips, field("levels"), text, unit)))
    .filter((level) => level !== undefined)
    .sort((a, b) => a - b);
  const ends = { low: number("low") ?? levels[0], high: number("high") ?? levels.at(-1) };
  if (unit !== undefined) {
    if (ends.low === undefined && factor.low.trim() === "")
      slips.missing(field("low"), `The lowest setting of ${called}.`);
    if (ends.high === undefined && factor.high.trim() === "") {
      slips.missing(field("high"), `The highest setting of ${called}.`);
    }
  }
  const given = { unit, ...ends, scale: factor.scale, increment: number("increment") };
  return filled({ ...common, ...given, levels: levels.length > 0 ? levels : undefined });
}

function responseJson(
  slips: Slips,
  response: Draft["responses"][number],
  index: number,
): Record<string, unknown> {
  const field = (name: string) => `responses.${index}.${name}`;
  const called = response.name.trim() === "" ? `response ${index + 1}` : response.name.trim();
  if (response.name.trim() === "") slips.missing(field("name"), `The name of response ${index + 1}.`);
  const unit = unitOf(slips, field("unit"), response.unit, called);
  const limit = unit === undefined ? undefined : numberIn(slips, field("limit"), response.limit, unit);
  return filled({ name: response.name.trim(), unit, aim: response.aim, limit });
}

const counts = new Set(["teeth", "passes", "edges"]);
const minutes = new Set(["minutes", "minutesBetween"]);

function sectionJson(slips: Slips, name: string, section: Readonly<Record<string, string>>): unknown {
  const entries = Object.entries(section).filter(([, text]) => text.trim() !== "");
  const read = entries.map(([key, text]): [string, unknown] => {
    const field = `${name}.${key}`;
    if (counts.has(key)) return [key, slips.try(field, () => parseNumber(text))];
    if (minutes.has(key)) return [key, numberIn(slips, field, text, "min")];
    return [key, text.trim()];
  });
  return read.length === 0 ? undefined : filled(Object.fromEntries(read));
}

function heldJson(slips: Slips, held: Draft["held"]): Record<string, string> {
  held.forEach(({ name, value }, index) => {
    if (name.trim() === "" && value.trim() !== "")
      slips.missing(`held.${index}.name`, `What is held at ${value.trim()}.`);
    if (name.trim() !== "" && value.trim() === "")
      slips.missing(`held.${index}.value`, `Where ${name.trim()} is held.`);
  });
  return Object.fromEntries(
    held
      .filter(({ name, value }) => name.trim() !== "" && value.trim() !== "")
      .map(({ name, value }) => [name.trim(), value.trim()]),
  );
}

function todayJson(factors: Draft["factors"]): Record<string, unknown> | undefined {
  const given = factors
    .filter(({ name, today }) => name.trim() !== "" && today.trim() !== "")
    .map((factor): [string, unknown] => [
      factor.name.trim(),
      factor.kind === "quantity" && !/[^\d\s.,]/.test(factor.today)
        ? `${factor.today.trim()} ${factor.unit.trim()}`
        : factor.today.trim(),
    ]);
  return given.length > 0 ? Object.fromEntries(given) : undefined;
}

function draftJson(slips: Slips, draft: Draft): Record<string, unknown> {
  if (draft.title.trim() === "") slips.missing("title", "A title.");
  if (draft.factors.length === 0) slips.missing("factors", "At least one factor.");
  if (draft.responses.length === 0) slips.missing("responses", "At least one response.");
  // What was typed for another kind of layout waits in the form for its return.
  const known = kinds.get(draft.layout.kind)?.known ?? Object.keys(draft.layout.options);
  const options = Object.entries(draft.layout.options).filter(
    ([name, text]) => text.trim() !== "" && known.includes(name.split(".")[0] ?? ""),
  );
  const factors = draft.factors.map((factor, index) => factorJson(slips, factor, index));
  return filled({
    format: "trycut-trial/1",
    title: draft.title.trim() === "" ? undefined : draft.title.trim(),
    question: draft.question.trim(),
    dataKind: draft.dataKind,
    source: draft.source.trim(),
    display: draft.display,
    factors,
    responses: draft.responses.map((response, index) => responseJson(slips, response, index)),
    layout: {
      kind: draft.layout.kind,
      ...nested(
        options.map(([name, text]) => [
          name,
          optionJson(name, { slips, field: `layout.${name}`, text, factors: readable(factors) }),
        ]),
      ),
    },
    held: heldJson(slips, draft.held),
    cutter: sectionJson(slips, "cutter", draft.cutter),
    machine: sectionJson(slips, "machine", draft.machine),
    pass: sectionJson(slips, "pass", draft.pass),
    budget: sectionJson(slips, "budget", draft.budget),
    measurement: sectionJson(slips, "measurement", draft.measurement),
    today: todayJson(draft.factors),
  });
}

/** The factors that an option can name: those whose own fields can be read. */
function readable(factors: readonly Record<string, unknown>[]): readonly Factor[] {
  return factors.flatMap((factor) => {
    try {
      const alone = { format: "trycut-trial/1", title: "One factor", dataKind: "invented", responses: [] };
      return parseTrialSpec({ ...alone, factors: [factor], layout: { kind: "factorial" } }, "").factors;
    } catch (error) {
      if (error instanceof TrialError) return [];
      throw error;
    }
  });
}

/** "factors[0].low" of a message is the field "factors.0.low" of the form. */
function fieldOf(path: string): string {
  return path.replace(/\[(\d+)\]/g, ".$1");
}

export interface ReadDraft {
  readonly problems: readonly DraftProblem[];
  /** Null where the form can't be a trial yet. A missing title or response leaves it readable, so that it can be judged. */
  readonly spec: TrialSpec | null;
}

/** Fields without which a plan can be laid out and judged all the same. */
const waits = /^(title|responses|held)\b/;

/**
 * Reads the form for a new trial: numbers with whatever unit was typed, then the same check as for a file.
 * @param draft the form
 * @returns the specification, and everything that can't stand or is still missing, each with its field
 */
export function specFromDraft(draft: Draft): ReadDraft {
  const slips = new Slips();
  const json = draftJson(slips, draft);
  const problems = slips.found;
  if (problems.some(({ field }) => !waits.test(field))) return { problems, spec: null };
  const usable = problems.some(({ field }) => field.startsWith("responses"))
    ? { ...json, responses: [] }
    : json;
  try {
    return { problems, spec: parseTrialSpec(usable, "") };
  } catch (error) {
    if (!(error instanceof TrialError)) throw error;
    const found = error.problems.map(({ path, given, expected, mend }) => ({
      field: fieldOf(path),
      message: `${path}: got ${given}; expected ${expected}. ${mend}`.trimEnd(),
      missing: false,
    }));
    return { problems: [...problems, ...found], spec: null };
  }
}
