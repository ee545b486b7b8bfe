import { settingText, type Setting, type Trial } from "../../trial/index.ts";
import { formatNumber, formatQuantity, isUnit, listed, quantity } from "../../units/index.ts";
import { freshText } from "../fresh-text.ts";
import { percent, unitText } from "../words.ts";
import type { JointRecipe, LimitKept } from "./joint-recipe.ts";
import type { ResponseLimit } from "./response-limit.ts";

/** A value of a response to three digits, in the system that the trial shows. */
export function valueText(value: number, unit: string, { spec }: Trial): string {
  if (!isUnit(unit)) return `${formatNumber(value, { digits: 3 })}${unitText(unit)}`;
  return formatQuantity(quantity(Number(value.toPrecision(3)), unit), { system: spec.display });
}

/** "95 % of parts", "the mean", "each of the next 10 parts (each in a set-up of its own)". */
export function whomText({ for: whom, share, parts, fresh }: ResponseLimit, logScale = false): string {
  if (whom === "mean") return logScale ? "the median" : "the mean";
  if (whom === "share") return `${percent(share)} of parts`;
  const own = fresh.length === 0 ? "" : ` (${parts === 1 ? "" : "each "}${freshText(fresh)})`;
  return `${parts === 1 ? "the next part" : `each of the next ${parts} parts`}${own}`;
}

export function limitSentence(kept: Omit<LimitKept, "text">, trial: Trial, logScale: boolean): string {
  const { response, unit, side, limit, bound, assurance, assuranceThere, isKept, margin } = kept;
  const text = (value: number): string => valueText(value, unit, trial);
  const promise = `${whomText(kept, logScale)} ${side === "at-most" ? "at or below" : "at or above"} ${text(limit)}`;
  const where = `bound ${text(bound)}, ${isKept ? `${text(Math.abs(margin))} inside` : `${text(Math.abs(margin))} beyond`}`;
  return isKept
    ? `${response}: ${promise} with ${percent(assurance)} assurance (${where}).`
    : `${response}: ${promise} can't be promised with ${percent(assurance)} assurance (${where}; ${percent(Number(assuranceThere.toFixed(3)))} sure).`;
}

/** "feed 0.16 mm/rev, speed 1000 rev/min", factors of the trial in their order. */
export function settingsText(settings: Readonly<Record<string, Setting>>, { spec }: Trial): string {
  return spec.factors
    .filter(({ name }) => Object.hasOwn(settings, name))
    .map((factor) => `${factor.name} ${settingText(factor, settings[factor.name], spec.display)}`)
    .join(", ");
}

export function jointText(recipe: Omit<JointRecipe, "text" | "table">, trial: Trial): string {
  const place = settingsText(recipe.settings, trial);
  const limits = recipe.limits.map(({ text }) => text).join(" ");
  if (recipe.outcome === "none")
    return `No settings keep every limit: ${recipe.reason}. Nearest: ${place}. ${limits}`;
  const together =
    recipe.limits.length > 1
      ? ` ${recipe.limits.length === 2 ? "Both" : `All ${recipe.limits.length}`} together hold with at least ${percent(Number(recipe.assuranceTogether.toFixed(4)))} assurance.`
      : "";
  const outside =
    recipe.extrapolation.length === 0
      ? ""
      : ` Extrapolation: ${listed(recipe.extrapolation)} outside what was cut; prove it first.`;
  const search = recipe.search.exact
    ? ""
    : ` ${recipe.search.settings.toLocaleString("en")} settings were too many to rule out that another is a little faster; none near this one is.`;
  return `${capital(place)}. ${limits}${together}${gainText(recipe)}${stopsText(recipe, trial)}${outside}${search}`;
}

function gainText({
  minutes,
  removalRateCm3PerMin,
  minutesRatio,
  removalRatio,
}: Omit<JointRecipe, "text" | "table">): string {
  const times = (ratio: number | null): string =>
    ratio === null ? "" : `, ${formatNumber(ratio, { digits: 3 })} times today's`;
  const parts: string[] = [];
  if (removalRateCm3PerMin !== null)
    parts.push(
      `removal is ${formatNumber(removalRateCm3PerMin, { digits: 3 })} cm³/min${times(removalRatio)}`,
    );
  if (minutes !== null)
    parts.push(`a pass takes ${formatNumber(minutes, { digits: 3 })} min${times(minutesRatio)}`);
  return parts.length === 0 ? "" : ` ${capital(listed(parts))}.`;
}

/** "What stops more: feed 0.17 mm/rev would break the limit on Ra; speed 2400 rev/min is the end of what was cut." */
function stopsText({ stops, settings }: Omit<JointRecipe, "text" | "table">, { spec }: Trial): string {
  const parts = stops.flatMap(({ factor: name, next, by }) => {
    const factor = spec.factors.find((one) => one.name === name);
    if (factor === undefined || by.length === 0) return [];
    const text = (setting: Setting): string => `${name} ${settingText(factor, setting, spec.display)}`;
    if (next === null || by.includes("range")) return [`${text(settings[name])} is the end of what was cut`];
    const responses = by.filter((one) => one !== "machine");
    const broken = [
      ...(responses.length === 0
        ? []
        : [`the ${responses.length === 1 ? "limit" : "limits"} on ${listed(responses)}`]),
      ...(by.includes("machine") ? ["the machine's limits"] : []),
    ];
    return [`${text(next)} would break ${listed(broken)}`];
  });
  // Names of responses keep the letters that their owner gave them.
  return parts.length === 0 ? "" : ` What stops more: ${parts.join("; ")}.`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export function jointTable(limits: readonly LimitKept[], trial: Trial): JointRecipe["table"] {
  return {
    columns: ["response", "for", "limit", "estimate", "bound", "margin", "assurance there", "stops a gain"],
    rows: limits.map((kept) => {
      const text = (value: number): string => valueText(value, kept.unit, trial);
      return [
        kept.response,
        whomText(kept),
        `${kept.side === "at-most" ? "≤" : "≥"} ${text(kept.limit)}`,
        text(kept.estimate),
        text(kept.bound),
        `${kept.margin < 0 ? "−" : ""}${text(Math.abs(kept.margin))}`,
        percent(Number(kept.assuranceThere.toFixed(3))),
        kept.binds ? "yes" : "no",
      ];
    }),
  };
}
