import { listed, parseNumber } from "../units/index.ts";
import { settingsOf, type TypedOption } from "./typed-settings.ts";

const limits = ["removal rate", "surface speed", "spindle speed", "feed speed"] as const;

const examples =
  '"removal rate at most 40 cm³/min", "never feed = 0.24, edge = used", "1000 × feed + 0.1 × speed at most 300", or "tool life at least 15 min, exponent 0.25, constant 300 m/min"';

/** One line that says what may not be cut. */
export function readConstraint(typed: TypedOption): unknown {
  const { text } = typed;
  const never = /^never\s+(.+)$/i.exec(text)?.[1];
  if (never !== undefined) return { never: settingsOf({ ...typed, text: never.replaceAll(" with ", ", ") }) };
  const life = /^tool life\s+at least\s+([^,]+),\s*exponent\s+([^,]+),\s*constant\s+(.+)$/i.exec(text);
  if (life) {
    const [, atLeast = "", exponent = "", constant = ""] = life;
    const value = typed.slips.try(typed.field, () => parseNumber(exponent));
    return { limit: "tool life", exponent: value, constant: constant.trim(), atLeast: atLeast.trim() };
  }
  const [, what = "", bound = "", size = ""] = /^(.+?)\s+(at most|at least)\s+(.+)$/i.exec(text) ?? [];
  const side = /most/i.test(bound) ? "atMost" : "atLeast";
  const limit = limits.find((name) => name === what.trim().toLowerCase());
  if (limit !== undefined) return { limit, [side]: size.trim() };
  const sum = what === "" ? undefined : sumOf(typed, what);
  if (sum === undefined)
    return typed.slips.wrong(typed.field, `"${text}": expected a line such as ${examples}.`);
  const value = typed.slips.try(typed.field, () => parseNumber(size));
  return { sum, [side]: value };
}

/** "1000 × feed + 0.1 × speed", "feed − depth": settings in their factors' own units. */
function sumOf(
  { slips, field, factors }: TypedOption,
  text: string,
): Readonly<Record<string, number>> | undefined {
  const found: Record<string, number> = {};
  const parts = text.replace(/\s+[-−]\s+/g, " + -").split(/\s*\+\s*/);
  for (const part of parts) {
    const [, sign = "", weight, name = ""] = /^([-−]?)\s*(?:([\d.,]+)\s*[×*]?\s*)?(.+)$/.exec(part) ?? [];
    const factor = factors.find((each) => each.name === name.trim());
    if (factor?.kind !== "quantity") {
      if (parts.length === 1 && weight === undefined) return undefined;
      const quantities = factors.filter((each) => each.kind === "quantity").map((each) => each.name);
      slips.wrong(field, `"${part}" is not a number of a quantity. Those are ${listed(quantities)}.`);
      continue;
    }
    const size = weight === undefined ? 1 : slips.try(field, () => parseNumber(weight));
    if (size !== undefined) found[factor.name] = sign === "" ? size : -size;
  }
  return found;
}
