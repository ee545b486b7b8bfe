import { figureError } from "./error.ts";
import { factorOf, numberSetting, settingsCut } from "./fit-curve.ts";
import { runMean } from "./fitted-rows.ts";
import type { InteractionLine } from "./interaction-lines.ts";
import { groupStyles, palette } from "./palette.ts";
import type { DrawnRun } from "./reading-marks.ts";
import { roundedText } from "./number-text.ts";
import type { Shown } from "./shown.ts";
import type { Fit, ObservedFactor } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

export interface Slice extends InteractionLine {
  readonly setting: number;
}

/** A run counts as by its slice within this share of the way to the next one. */
const near = 1 / 3;

/** The quantities asked for; else the first two that were cut at several settings. */
export function twoQuantities(
  fit: Fit,
  asked: readonly [string, string] | undefined,
): readonly [ObservedFactor, ObservedFactor] {
  const [along, apart] =
    asked === undefined
      ? fit.factors.filter((factor) => factor.kind === "quantity" && settingsCut(fit, factor).length > 1)
      : asked.map((name) => factorOf(fit, name));
  if (
    along !== undefined &&
    apart !== undefined &&
    along.name !== apart.name &&
    [along, apart].every(({ kind }) => kind === "quantity")
  )
    return [along, apart];
  throw figureError({
    given: asked === undefined ? "a fit without two quantities" : `${asked.join(" and ")}`,
    expected: "two different quantities of the fit",
    mend: "Draw a category with interactionFigure, one quantity with responseFigure.",
  });
}

/** Lowest, middle and highest of what was cut, or the settings asked for, rising. */
export function sliceSettings(
  fit: Fit,
  apart: ObservedFactor,
  asked: readonly number[] | undefined,
): readonly number[] {
  const cut = settingsCut(fit, apart).map(Number);
  const [low, high] = [cut[0], cut[cut.length - 1]];
  if (asked === undefined) {
    const middle = isGeometric(fit, apart) ? Math.sqrt(low * high) : (low + high) / 2;
    const nearest = cut.reduce((best, one) =>
      Math.abs(one - middle) < Math.abs(best - middle) ? one : best,
    );
    // A middle that was cut, but for rounding or the machine's steps, is told as it was cut.
    const own = Math.abs(nearest - middle) < 0.05 * (high - low) ? nearest : Number(middle.toPrecision(3));
    return [...new Set([low, own, high])];
  }
  const settings = [...new Set(asked)].sort((a, b) => a - b);
  if (settings.length === 0 || settings.length > groupStyles.length)
    throw figureError({
      given: `${settings.length} slices`,
      expected: `one to ${groupStyles.length}`,
      mend: "Name fewer settings.",
    });
  const slack = 1e-9 * (high - low);
  const outside = settings.find((one) => !(one >= low - slack && one <= high + slack));
  if (outside !== undefined)
    throw figureError({
      given: `a slice at ${apart.name} ${outside}`,
      expected: `a setting within what was cut, ${roundedText(low, 4)} to ${roundedText(high, 4)}`,
      mend: "Name one within.",
    });
  return settings;
}

/** Every run as its mean, in the style of the slice it lies nearest to; grey where it lies between slices, or other factors stood elsewhere. */
export function runsNear(
  fit: Fit,
  slices: readonly Slice[],
  options: {
    readonly along: ObservedFactor;
    readonly apart: ObservedFactor;
    readonly held: Readonly<Record<string, Setting>>;
    readonly shown: { readonly x: Shown; readonly y: Shown };
  },
): readonly DrawnRun[] {
  const { along, apart, held, shown } = options;
  const place = (setting: number): number => (isGeometric(fit, apart) ? Math.log(setting) : setting);
  const places = slices.map(({ setting }) => place(setting));
  const gap = places.length > 1 ? Math.min(...places.slice(1).map((one, k) => one - places[k])) : Infinity;
  const elsewhere = fit.factors.filter(({ name, kind }) => kind === "category" && name !== apart.name);
  return fit.rows.map((row) => {
    const own = place(numberSetting(row.settings[apart.name], apart.name));
    const distances = places.map((one) => Math.abs(one - own));
    const nearest = distances.indexOf(Math.min(...distances));
    const strong =
      (places.length > 1 ? distances[nearest] <= near * gap : distances[0] === 0) &&
      elsewhere.every(({ name }) => String(row.settings[name]) === String(held[name]));
    const mean = shown.y.value(runMean(row, fit));
    return {
      x: shown.x.value(numberSetting(row.settings[along.name], along.name)),
      mean,
      single: [mean],
      style: strong ? slices[nearest].style : { ...slices[nearest].style, colour: palette.rule },
      strong,
    };
  });
}

function isGeometric(fit: Fit, { scale, low }: ObservedFactor): boolean {
  return low > 0 && (fit.kind === "power-law" || scale === "log");
}
