import { formatNumber, listed } from "../../units/index.ts";
import type { Setting } from "../../trial/index.ts";
import type { CurveFit } from "../curve/index.ts";
import type { Fit } from "../fit.ts";
import type { FloorFit } from "../floor/index.ts";
import { differenceText, isInterval, percent, pText, rounded, settingNumber, unitText } from "../words.ts";
import type { Contrast } from "./told-contrast.ts";

/** "Going from feed 0.2 mm/rev, edge fresh to feed 0.12 mm/rev, edge used multiplies Ra by 0.62 (95 % 0.55 to 0.70)." */
export function contrastSentence(
  fit: Fit | FloorFit | CurveFit,
  contrast: Omit<Contrast, "sentence">,
  absent: readonly string[],
): string {
  const { from, to, value, as, stands, extrapolation } = contrast;
  const changed = Object.keys(to).filter((name) => String(from[name]) !== String(to[name]));
  const units = unitsOf(fit);
  const place = (settings: Readonly<Record<string, Setting>>, names: readonly string[]): string =>
    names.map((name) => settingText(name, settings[name], units)).join(", ");
  const [start, end] = [place(from, changed), place(to, changed)];
  const same = place(
    to,
    Object.keys(to).filter((name) => !changed.includes(name)),
  );
  const beside = [...(same === "" ? [] : [same]), ...stands.map(({ text }) => text)].join(", ");
  const tail = [
    stands.length === 0
      ? ""
      : ` How much depends on ${listed(stands.map(({ factor }) => factor))}: name ${stands.length === 1 ? "it" : "them"} to ask elsewhere.`,
    absent.length === 0 || !isInterval(value)
      ? ""
      : ` ${listed(absent)} ${absent.length === 1 ? "is" : "are"} not in the model and count${absent.length === 1 ? "s" : ""} for nothing here.`,
    extrapolation.length === 0 ? "" : ` Outside what was cut: ${listed(extrapolation)}.`,
  ].join("");
  const { name, unit } = fit.response;
  const going = beside === "" ? "Going" : `With ${beside}, going`;
  const unitAfter = as === "ratio" ? "" : differenceText(unit);
  if (!isInterval(value)) {
    const move = `${beside === "" ? "What" : `With ${beside}, what`} going from ${start} to ${end} does to ${name}`;
    return value.estimate === null
      ? `${move} can't be told: ${value.reason}.${tail}`
      : `${going} from ${start} to ${end} ${verb(as, value.estimate, name, formatNumber(size(as, value.estimate), { digits: 3 }))}${unitAfter}. No interval: ${value.reason}.${tail}`;
  }
  const { low, high, estimate } = value;
  const none = as === "ratio" ? 1 : 0;
  const half = (high - low) / 2;
  const shown = (end: number): string => endText(end, { low, high, none });
  if (low <= none && high >= none) {
    if (low === high)
      return `${going} from ${start} to ${end} changes nothing in ${name}: every run read the same.${tail}`;
    const missed =
      as === "ratio"
        ? `one by a factor up to ${shown(Math.max(high, 1 / low))}`
        : `one up to ${shown(Math.max(high, -low))}${unitAfter}`;
    const p = contrast.p === null ? "" : `, p ${pText(contrast.p)}`;
    const opening = beside === "" ? "No" : `With ${beside}, no`;
    return `${opening} difference in ${name} between ${start} and ${end} was seen; ${missed} could have been missed (${percent(contrast.confidence)} ${shown(low)} to ${shown(high)}${unitAfter}${p}).${tail}`;
  }
  const [near, far] = as === "difference" && estimate < 0 ? [-high, -low] : [low, high];
  return `${going} from ${start} to ${end} ${verb(as, estimate, name, half > 0 ? shown(size(as, estimate)) : rounded(size(as, estimate), half))}${unitAfter} (${percent(contrast.confidence)} ${shown(near)} to ${shown(far)}).${tail}`;
}

function size(as: Contrast["as"], estimate: number): number {
  return as === "ratio" ? estimate : Math.abs(estimate);
}

function verb(as: Contrast["as"], estimate: number, name: string, amount: string): string {
  return as === "ratio"
    ? `multiplies ${name} by ${amount}`
    : `${estimate < 0 ? "lowers" : "raises"} ${name} by ${amount}`;
}

function unitsOf(fit: Fit | FloorFit | CurveFit): ReadonlyMap<string, string> {
  const named =
    fit.kind === "curve" ? fit.columns : fit.kind === "floor" ? fit.observations.factors : fit.factors;
  return new Map(named.map(({ name, unit }) => [name, unit]));
}

function settingText(name: string, setting: Setting, units: ReadonlyMap<string, string>): string {
  return `${name} ${settingNumber(setting)}${typeof setting === "string" ? "" : unitText(units.get(name) ?? "")}`;
}

/** A number to the places that its interval can bear, and to one more where it would else read as no difference at all. */
function endText(
  end: number,
  { low, high, none }: { readonly low: number; readonly high: number; readonly none: number },
): string {
  const usual = rounded(end, (high - low) / 2);
  return end !== none && usual === rounded(none, (high - low) / 2) ? rounded(end, (high - low) / 20) : usual;
}
