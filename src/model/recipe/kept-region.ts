import type { Setting, Trial } from "../../trial/index.ts";
import { settingText } from "../../trial/index.ts";
import { formatNumber, listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { Piece, RecipeOptions } from "../recipe.ts";
import { percent } from "../words.ts";
import { decisionOf, type Decision } from "./decision.ts";
import { everyPlace } from "./every-place.ts";
import type { JointRecipe } from "./joint-recipe.ts";
import { settingsText, valueText, whomText } from "./joint-recipe-text.ts";
import { settingsAt } from "./pass-score.ts";
import type { LimitAsked, ResponseLimit } from "./response-limit.ts";
import type { SpaceOptions } from "./search-space.ts";

export interface KeptRegionOptions extends SpaceOptions {
  /** By response; the assurance is stated once, for all of them together. */
  readonly limits?: Readonly<Record<string, Omit<LimitAsked, "assurance">>>;
  /** That all limits are kept together. Default 0.95. */
  readonly assurance?: number;
  /** Where quantities that no model holds stand. Default: the trial's own `today`. */
  readonly today?: RecipeOptions["today"];
}

/** Settings that keep every limit, at one combination of what stands still. */
export interface KeptPart {
  readonly settings: Readonly<Record<string, Setting>>;
  readonly kept: number;
  /** Of the settings that were looked at there. */
  readonly share: number;
  /** From the lowest to the highest setting of each quantity that keeps every limit somewhere; null where none does. */
  readonly extent: Readonly<Record<string, Piece>> | null;
}

/** The set of settings where all limits hold together. */
export interface KeptRegion {
  readonly limits: readonly ResponseLimit[];
  /** That all limits hold together at one setting of the set, at least (Bonferroni). */
  readonly assurance: number;
  /** Of each limit by itself. */
  readonly assuranceEach: number;
  readonly looked: number;
  readonly kept: number;
  readonly share: number;
  /** False where the grid was too large and settings were taken evenly from it. */
  readonly isWhole: boolean;
  readonly parts: readonly KeptPart[];
  /** The share of settings that each limit leaves by itself; the smallest narrows most. */
  readonly alone: readonly { readonly response: string; readonly share: number }[];
  /** Whether settings (on increments or between them) keep every limit; false outside what was cut. Factors left out stand where they are held. */
  readonly contains: (settings: Readonly<Record<string, Setting>>) => boolean;
  readonly text: string;
  readonly table: JointRecipe["table"];
}

const mostLooked = 100_000;

/**
 * The settings where limits on several responses are all kept with stated assurance together: each limit is held to 1 − (1 − assurance)/m, so that whatever ties the m
 * responses, all statements are true at once at least so often (Bonferroni). Use it to see how much room a recipe has, instead of one best point.
 *
 * With two limits at 95 % a setting on the border of one was left out in 97.2 to 97.6 % of 10,000 drawn trials each of 8 to 32 runs; the text says so.
 * On the machine's increments, within what was cut and within the machine's limits. The assurance belongs to each setting by itself, not to the set's border as a whole.
 * Refused: what `jointRecipe` refuses.
 * Example: `keptRegion(trial, [fitOfRa, fitOfPower]).share` is 0.31: three settings in ten keep both.
 */
export function keptRegion(trial: Trial, fits: readonly Fit[], options: KeptRegionOptions = {}): KeptRegion {
  const { assurance = 0.95, limits = {}, ...rest } = options;
  if (!(assurance >= 0.5 && assurance < 1))
    throw modelError(`an assurance of ${assurance}`, "a number from 0.5 to below 1, such as 0.95");
  const assuranceEach = 1 - (1 - assurance) / Math.max(1, fits.length);
  const names = new Set([...fits.map(({ response }) => response.name), ...Object.keys(limits)]);
  const decision = decisionOf(trial, fits, {
    ...rest,
    limits: Object.fromEntries(
      [...names].map((name) => [name, { ...limits[name], assurance: assuranceEach }]),
    ),
    needsObjective: false,
  });
  const { parts, looked, alone, isWhole } = looking(decision);
  const kept = parts.reduce((sum, part) => sum + part.kept, 0);
  const region = {
    limits: decision.limits,
    assurance,
    assuranceEach,
    looked,
    kept,
    share: kept / looked,
    isWhole,
    parts,
    alone,
    contains: containing(decision),
  };
  return { ...region, text: regionText(region, trial), table: regionTable(region, trial, decision) };
}

function looking(decision: Decision) {
  const { space, judges, scores } = decision;
  const { axes, combinations } = space;
  const most = Math.floor(mostLooked / combinations.length);
  const aloneKept = judges.map(() => 0);
  let looked = 0;
  let isWhole = true;
  const parts = combinations.map((held, which): KeptPart => {
    const points = judges.map(({ evaluator }) => {
      const point = evaluator.centre();
      for (const [name, setting] of Object.entries(held)) evaluator.set(point, name, setting);
      return point;
    });
    const slots = judges.map(({ evaluator }) => axes.map(({ name }) => evaluator.slotOf(name)));
    const low = axes.map(() => Infinity);
    const high = axes.map(() => -Infinity);
    let kept = 0;
    const { places, all } = everyPlace(axes, most, (place) => {
      const isAllowed = scores[which].isAllowed(place);
      let isKept = isAllowed;
      judges.forEach(({ evaluator, inside }, j) => {
        axes.forEach(({ name, settings }, i) => {
          if (slots[j][i] >= 0) points[j][slots[j][i]] = evaluator.coordinate(name, settings[place[i]]);
        });
        if (inside(points[j]) < 0) isKept = false;
        else if (isAllowed) aloneKept[j]++;
      });
      if (!isKept) return;
      kept++;
      axes.forEach(({ settings }, i) => {
        low[i] = Math.min(low[i], settings[place[i]]);
        high[i] = Math.max(high[i], settings[place[i]]);
      });
    });
    looked += places;
    isWhole &&= all;
    const extent = Object.fromEntries(axes.map(({ name }, i) => [name, { low: low[i], high: high[i] }]));
    return { settings: held, kept, share: kept / places, extent: kept === 0 ? null : extent };
  });
  const alone = judges.map(({ asked }, j) => ({ response: asked.response, share: aloneKept[j] / looked }));
  return { parts, looked, alone, isWhole };
}

function containing({ space, judges, scores, trial }: Decision): KeptRegion["contains"] {
  const middle = settingsAt(
    space,
    0,
    Int32Array.from(space.axes, ({ settings }) => settings.length >> 1),
  );
  return (settings) => {
    const unknown = Object.keys(settings).find(
      (name) => !trial.spec.factors.some((one) => one.name === name),
    );
    if (unknown !== undefined) throw modelError(`the unknown factor "${unknown}"`, "factors of the trial");
    const full = { ...middle, ...settings };
    const isWithin = space.axes.every(({ name, settings: all }) => {
      const setting = Number(full[name]);
      return setting >= all[0] && setting <= all[all.length - 1];
    });
    if (!isWithin) return false;
    const which = space.combinations.findIndex((held) =>
      Object.entries(held).every(([name, setting]) => full[name] === setting),
    );
    if (which < 0 || !scores[which].isAllowed(nearestAbove(space.axes, full))) return false;
    return judges.every(({ evaluator, inside }) => {
      const point = evaluator.centre();
      for (const [name, setting] of Object.entries(full)) evaluator.set(point, name, setting);
      return inside(point) >= 0;
    });
  };
}

/** The machine's limits rise with the settings: the next place of the grid up is on the safe side. */
function nearestAbove(axes: Decision["space"]["axes"], full: Readonly<Record<string, Setting>>): Int32Array {
  return Int32Array.from(axes, ({ name, settings }) => {
    const at = settings.findIndex((setting) => setting >= Number(full[name]) * (1 - 1e-12));
    return at < 0 ? settings.length - 1 : at;
  });
}

type Told = Omit<KeptRegion, "text" | "table">;

function regionText(region: Told, trial: Trial): string {
  const { limits, assurance, parts, kept, share, alone } = region;
  const promise = listed(
    limits.map(
      (limit) =>
        `${limit.response} of ${whomText(limit)} ${limit.side === "at-most" ? "at or below" : "at or above"} ${valueText(limit.limit, limit.unit, trial)}`,
    ),
  );
  const together = limits.length === 1 ? "" : " together";
  if (kept === 0)
    return `No setting that was looked at keeps ${promise}${together} with ${percent(assurance)} assurance. ${aloneText(alone)}`;
  const rooms = parts
    .filter((part) => part.kept > 0)
    .map((part) => {
      const place = parts.length === 1 ? "" : `${settingsText(part.settings, trial)}: `;
      return `${place}${extentText(part, trial)}`;
    });
  return `${percent(round(share))} of the settings that were cut within keep ${promise}${together} with ${percent(assurance)} assurance: ${rooms.join("; ")}. Not every mixture of these does.${limits.length === 1 ? "" : ` ${aloneText(alone)} ${saferSide}`}`;
}

/** Each limit is held by itself, at its share of the doubt; figures of the committed table of coverage. */
const saferSide =
  "Several limits together are held on the safe side: with two of them, a setting on the limit itself was left out in 97 to 98 % of 10,000 drawn trials of 8, 16 and 32 runs each, where 95 % were asked.";

function aloneText(alone: KeptRegion["alone"]): string {
  const narrowest = [...alone].sort((a, b) => a.share - b.share)[0];
  return `${narrowest.response} narrows it most: by itself it leaves ${percent(round(narrowest.share))}.`;
}

function extentText({ extent }: KeptPart, { spec }: Trial): string {
  return Object.entries(extent ?? {})
    .map(([name, { low, high }]) => {
      const factor = spec.factors.find((one) => one.name === name)!;
      const text = (setting: number) => settingText(factor, setting, spec.display);
      return low === high ? `${name} ${text(low)}` : `${name} ${text(low)} to ${text(high)}`;
    })
    .join(", ");
}

function regionTable({ parts }: Told, trial: Trial, { space }: Decision): KeptRegion["table"] {
  return {
    columns: ["at", "share that keeps all", ...space.axes.map(({ name }) => name)],
    rows: parts.map((part) => [
      settingsText(part.settings, trial),
      percent(round(part.share)),
      ...space.axes.map(({ name }) => {
        const piece = part.extent?.[name];
        return piece === undefined ? null : `${formatNumber(piece.low)} to ${formatNumber(piece.high)}`;
      }),
    ]),
  };
}

function round(share: number): number {
  return Number(share.toPrecision(2));
}
