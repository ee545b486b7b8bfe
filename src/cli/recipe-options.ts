import type { JointRecipeOptions, LimitAsked } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";
import { isUnit, listed, readQuantity } from "../units/index.ts";
import { UsageError } from "./error.ts";
import { choiceOption, namesOption, numberOption, probabilityOption, textOption } from "./option-values.ts";
import { parsedJson } from "./read-file.ts";
import { settingsFromJson } from "./settings-from-json.ts";
import type { OptionValues } from "./verb.ts";

/** What a verb takes to ask for a recipe. */
export const recipeOptions = {
  limit: { type: "string", multiple: true },
  for: { type: "string" },
  share: { type: "string" },
  parts: { type: "string" },
  assurance: { type: "string" },
  push: { type: "string" },
  hold: { type: "string" },
} as const;

/** Limits by response, as they were typed; without any, those that the trial states: none where it states none. */
export function limitsTyped({ spec }: Trial, options: OptionValues): Readonly<Record<string, LimitAsked>> {
  const common = {
    for: choiceOption(options, "for", ["mean", "share", "next"] as const) ?? "share",
    share: probabilityOption(options, "share") ?? 0.95,
    parts: numberOption(options, "parts") ?? 1,
    assurance: probabilityOption(options, "assurance") ?? 0.95,
  };
  for (const [name, whom] of [
    ["share", "share"],
    ["parts", "next"],
  ] as const)
    if (options[name] !== undefined && common.for !== whom)
      throw new UsageError(`--${name} goes with --for ${whom}; here the limit is for ${common.for}.`);
  const typed = options["limit"];
  const texts = Array.isArray(typed) ? typed.map(String) : [];
  if (texts.length === 0) {
    const stated = spec.responses.filter(({ limit, aim }) => limit !== undefined && aim !== "target");
    return Object.fromEntries(stated.map(({ name, limit = 0 }) => [name, { ...common, limit }]));
  }
  const limits: Record<string, LimitAsked> = {};
  for (const text of texts) {
    const response = spec.responses.find(({ name }) => text.startsWith(`${name} `));
    if (response === undefined)
      throw new UsageError(
        `--limit "${text}": expected a response (${listed(
          spec.responses.map(({ name }) => name),
          "or",
        )}) and its limit, such as "${spec.responses[0]?.name ?? "Ra"} 0.8 µm".`,
      );
    if (Object.hasOwn(limits, response.name))
      throw new UsageError(`--limit "${text}": ${response.name} has a limit already.`);
    const rest = text.slice(response.name.length).trim();
    const limit = limitTyped(text, rest, response);
    limits[response.name] = { ...common, limit };
  }
  return limits;
}

function limitTyped(
  text: string,
  rest: string,
  { name, unit, limit = 1 }: Trial["spec"]["responses"][number],
): LimitAsked["limit"] {
  const example = `such as "${name} ${limit}${isUnit(unit) ? ` ${unit}` : ""}"`;
  if (!isUnit(unit)) {
    const value = Number(rest);
    if (rest !== "" && Number.isFinite(value)) return value;
    throw new UsageError(`--limit "${text}": expected a number, since ${name} has no unit, ${example}.`);
  }
  const read = readQuantity(rest, { unit });
  if (read.kind === "value") return read.value;
  throw new UsageError(
    `--limit "${text}": ${name} is read in ${unit}; expected a number and such a unit, ${example}.`,
  );
}

/** What is pushed and what stands still, as it was typed. */
export function searchTyped(options: OptionValues): JointRecipeOptions {
  const push = textOption(options, "push");
  const hold = textOption(options, "hold");
  return {
    ...(push === undefined
      ? {}
      : {
          objective:
            push === "removal" || push === "time" ? push : { product: namesOption(options, "push") ?? [] },
        }),
    ...(hold === undefined ? {} : { at: settingsFromJson(parsedJson(hold, "--hold"), "--hold")[0] ?? {} }),
  };
}
