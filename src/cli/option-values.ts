import { parseNumber } from "../units/index.ts";
import { UsageError } from "./error.ts";
import type { OptionValues } from "./verb.ts";

/** Text of an option, or undefined where it was not given. */
export function textOption(options: OptionValues, name: string): string | undefined {
  const value = options[name];
  return typeof value === "string" ? value : undefined;
}

/** Text of an option that must be there. */
export function requiredOption(options: OptionValues, name: string): string {
  const value = textOption(options, name);
  if (value === undefined || value.trim() === "")
    throw new UsageError(`--${name} is needed and was not given.`);
  return value;
}

/** A number, decimal point or comma. */
export function numberOption(options: OptionValues, name: string): number | undefined {
  const text = textOption(options, name);
  if (text === undefined) return undefined;
  const value = parseNumber(text);
  if (!Number.isFinite(value)) throw new UsageError(`--${name} ${text}: expected a number.`);
  return value;
}

/** A whole number within limits. */
export function wholeNumberOption(
  options: OptionValues,
  name: string,
  { least, most }: { readonly least: number; readonly most: number },
): number | undefined {
  const text = textOption(options, name);
  if (text === undefined) return undefined;
  const value = Number(text.trim() === "" ? NaN : text.replaceAll(/[ ,_](?=\d{3}\b)/g, ""));
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  throw new UsageError(
    `--${name} ${text}: expected a whole number from ${least.toLocaleString("en")} to ${most.toLocaleString("en")}.`,
  );
}

/** A probability strictly between 0 and 1, such as 0.95. */
export function probabilityOption(options: OptionValues, name: string): number | undefined {
  const value = numberOption(options, name);
  if (value === undefined) return undefined;
  if (!(value > 0 && value < 1)) {
    const percent = value > 1 && value < 100 ? ` For ${value} % write ${value / 100}.` : "";
    throw new UsageError(`--${name} ${value}: expected a number between 0 and 1, such as 0.95.${percent}`);
  }
  return value;
}

/** Names separated by commas. */
export function namesOption(options: OptionValues, name: string): readonly string[] | undefined {
  const text = textOption(options, name);
  return text
    ?.split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");
}

/** One of a few words. */
export function choiceOption<Choice extends string>(
  options: OptionValues,
  name: string,
  choices: readonly Choice[],
): Choice | undefined {
  const text = textOption(options, name);
  if (text === undefined) return undefined;
  const found = choices.find((choice) => choice === text);
  if (!found) throw new UsageError(`--${name} ${text}: expected one of ${choices.join(", ")}.`);
  return found;
}
