import { figureError } from "./error.ts";
import { roundedText, tickTexts } from "./number-text.ts";
import type { Shown } from "./shown.ts";
import { textWidth } from "./text-width.ts";
import { extent } from "../numerics/index.ts";
import { evenTicks, ratioTicks } from "./ticks.ts";
import { formatNumber } from "../units/index.ts";

/** A second scale along the far side of the frame: the same places, named in another unit. */
export interface SecondScale {
  readonly unit: string;
  /** Places in the axis's own unit. */
  readonly ticks: readonly number[];
  readonly texts: readonly string[];
}

/** One axis of a drawing. Categories stand at 0, 1, 2, …, so that every axis is numeric. */
export interface Axis {
  readonly name: string;
  readonly unit: string;
  readonly type: "linear" | "log";
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  readonly texts: readonly string[];
  readonly categories: readonly string[];
  readonly second: SecondScale | null;
}

/** From an axis's values to the drawing and back. */
export interface Ruler {
  readonly at: (value: number) => number;
  readonly back: (place: number) => number;
}

/**
 * An axis for a quantity that holds `values`: a little wider than they are, with round ticks, or with `fixedTicks` (the
 * settings that were cut) where these can stand side by side. A single value gets room on both sides.
 */
export function quantityAxis(options: {
  readonly name: string;
  readonly unit: string;
  readonly values: readonly number[];
  readonly log?: "log" | "linear";
  readonly fixedTicks?: readonly number[];
  readonly count?: number;
  /** Room beyond the values, as a share of their range. */
  readonly margin?: number;
  /** `only`: ticks at whole numbers, for things that are counted. Default `any`. */
  readonly whole?: "only" | "any";
  /** How the other system's unit relates to this one; null for no second scale. */
  readonly second?: Shown["second"];
}): Axis {
  const {
    name,
    unit,
    values,
    log = "linear",
    fixedTicks = [],
    count = 6,
    margin = 0.05,
    whole = "any",
    second = null,
  } = options;
  const domain = widened(extent(values), { log, margin, name });
  const ticks = fixedTicks.length > 0 ? fixedTicks : ticksOn(domain, log, count, whole);
  return {
    name,
    unit,
    type: log,
    domain,
    ticks,
    texts: fixedTicks.length > 0 ? settingTexts(ticks) : tickTexts(ticks, log),
    categories: [],
    second: second === null ? null : secondScale(domain, log, count, second),
  };
}

/**
 * What an axis must hold: all of `firm`, and of `loose` (ends of wide bands) as much as lies within a third of that range beyond it, so
 * that a band of few runs does not press the readings flat.
 */
export function heldValues(
  firm: readonly number[],
  loose: readonly number[],
  log: "linear" | "log",
): readonly number[] {
  const [low, high] = extent(firm);
  const reach = log === "log" ? Math.max(high / low, 1.05) ** 0.35 : (high - low || Math.abs(high)) * 0.35;
  const floor = log === "log" ? low / reach : low - reach;
  const ceiling = log === "log" ? high * reach : high + reach;
  return [...firm, ...loose.map((value) => Math.min(Math.max(value, floor), ceiling))];
}

/** An axis of named levels, evenly spaced. */
export function categoryAxis(name: string, levels: readonly string[]): Axis {
  const ticks = levels.map((_, index) => index);
  const domain = [-0.5, Math.max(levels.length, 1) - 0.5] as const;
  return { name, unit: "", type: "linear", domain, ticks, texts: levels, categories: levels, second: null };
}

/** Where an axis's values lie between two places of the drawing. */
export function rulerFor(axis: Axis, from: number, to: number): Ruler {
  const forth = axis.type === "log" ? Math.log : (value: number) => value;
  const undo = axis.type === "log" ? Math.exp : (value: number) => value;
  const low = forth(axis.domain[0]);
  const perUnit = (to - from) / (forth(axis.domain[1]) - low);
  return {
    at: (value) => from + (forth(value) - low) * perUnit,
    back: (place) => undo(low + (place - from) / perUnit),
  };
}

/** Which of the texts can stand beside each other along a ruler; the first and the last have the first claim. */
export function fitting(
  places: readonly number[],
  texts: readonly string[],
  size: number,
  gap = 8,
): readonly number[] {
  const halves = texts.map((text) => textWidth(text, size) / 2);
  const clear = (one: number, other: number): boolean =>
    Math.abs(places[one] - places[other]) >= halves[one] + halves[other] + gap;
  const kept: number[] = [];
  const last = places.length - 1;
  for (const index of [0, last, ...places.keys()]) {
    if (index >= 0 && !kept.includes(index) && kept.every((other) => clear(index, other))) kept.push(index);
  }
  return kept.sort((a, b) => a - b);
}

/** Settings share their decimals (0.08, 0.10, 0.12) unless that pads some with two zeros or more (179.09, 220). */
function settingTexts(ticks: readonly number[]): readonly string[] {
  const even = tickTexts(ticks, "linear");
  const padded = even.some((text) => /\.\d*00$/u.test(text));
  return padded || even.some((text) => text.length > 8)
    ? ticks.map((tick) => formatNumber(Number(tick.toPrecision(5))))
    : even;
}

function ticksOn(
  domain: readonly [number, number],
  log: "log" | "linear",
  count: number,
  whole: "only" | "any" = "any",
): readonly number[] {
  return log === "log"
    ? ratioTicks(domain[0], domain[1], count)
    : evenTicks(domain[0], domain[1], count, whole);
}

function widened(
  [low, high]: readonly [number, number],
  options: { readonly log: "log" | "linear"; readonly margin: number; readonly name: string },
): readonly [number, number] {
  const { log, margin, name } = options;
  if (log === "log") {
    if (!(low > 0)) {
      throw figureError({
        given: `${name} has the value ${roundedText(low)}`,
        expected: "values above zero on a scale of ratios",
        mend: "Void the reading, or fit without logarithms.",
      });
    }
    const room = high / low > 1 + 1e-9 ? (high / low) ** margin : 1.2;
    return [low / room, high * room];
  }
  const span = high - low;
  const alike = !(span > 1e-9 * Math.max(Math.abs(low), Math.abs(high)));
  const room = alike ? Math.abs(high) * 0.1 || 1 : span * margin;
  return [low - room, high + room];
}

function secondScale(
  domain: readonly [number, number],
  log: "log" | "linear",
  count: number,
  second: NonNullable<Shown["second"]>,
): SecondScale {
  const ticks = ticksOn([second.there(domain[0]), second.there(domain[1])], log, count);
  return { unit: second.unit, ticks: ticks.map(second.back), texts: tickTexts(ticks, log) };
}
