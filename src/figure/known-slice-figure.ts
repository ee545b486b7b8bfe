import { halfWidthsAt, type HalfWidthOptions } from "../layout/index.ts";
import { quantityAxis, type Axis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed, outline } from "./frame.ts";
import { bandDrawing, cells, runMarks, sliceKey, type Slice } from "./known-slice-marks.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { plannedFactor, plannedRuns, settingScale, type PlannedRuns } from "./planned-runs.ts";
import { heading, shownIn, withUnit, type Display } from "./shown.ts";
import { sheet } from "./sheet.ts";
import { evenTicks } from "./ticks.ts";
import { settingText, type Factor, type QuantityFactor, type Run, type Settings } from "../trial/index.ts";

export interface KnownSliceOptions extends FigureOptions, HalfWidthOptions {
  /** The unit of `sigma`: the response's; left out where σ is not known, and widths are multiples of it. */
  readonly unit?: string;
  /** Quantities along the frame and up it. Default: the first two. */
  readonly along?: string;
  readonly up?: string;
  /** Where the other factors are held. Default: the middle of a quantity, the first level of a category. */
  readonly at?: Settings;
  /** A half-width that is wanted: an amber line bounds where it is kept. */
  readonly wanted?: number;
}

const height = 380;

/**
 * How well the mean is known over two quantities, the other factors held where it is said: bands of the half-width of its interval, the
 * darker the less is known, with the runs as dots. Use it to see whether a layout knows the response where the recipe may lie. Says the
 * least and the largest half-width of the slice and where they are. One row a place of a coarse grid in the table. Refuses fewer than two
 * quantities, an unknown factor or setting, and what `halfWidthsAt` refuses.
 * Example: `knownSliceFigure({ runs, factors }, { model: "surface", sigma: 0.05, unit: "µm", at: { edge: "used" } })`.
 */
export function knownSliceFigure(input: PlannedRuns, options: KnownSliceOptions = {}): Figure {
  const { document, display } = settled(options);
  const { runs, factors } = plannedRuns(input);
  const slice = sliceOf(factors, options);
  const shown = shownIn(options.unit ?? "σ", display);
  const places = gridOf(slice, cells);
  const widths = halfWidthsAt(runs, factors, places, options).map(shown.value);
  const least = widths.indexOf(Math.min(...widths));
  const most = widths.indexOf(Math.max(...widths));
  const borders = bordersOf(widths[least] ?? 0, widths[most] ?? 0);
  const on = framed(...axesOf(slice, runs, display), { height });
  const width = (value: number): string => `± ${withUnit(roundedText(value, 2), shown.unit)}`;
  const where = (settings: Settings): string =>
    [slice.along, slice.up]
      .map((factor) => `${factor.name} ${settingText(factor, rounded(settings[factor.name]), display)}`)
      .join(", ");
  const held = Object.entries(slice.held).map(
    ([name, setting]) => `${name} ${settingText(plannedFactor(factors, name), setting, display)}`,
  );
  const wanted = options.wanted === undefined ? null : shown.value(options.wanted);
  const title = options.title ?? `How well the mean is known over ${slice.along.name} and ${slice.up.name}`;
  const coarse = gridOf(slice, 5, "ends");
  const coarseWidths = halfWidthsAt(runs, factors, coarse, options).map(shown.value);
  return sheet(document, {
    kind: "known-slice",
    title,
    note: held.length === 0 ? "" : `held: ${held.join(", ")}`,
    description: [
      `${title}${held.length === 0 ? "" : `, at ${held.join(", ")}`}.`,
      `Best known to within ${width(widths[least] ?? 0)} at ${where(places[least] ?? {})}; least known to within ${width(widths[most] ?? 0)} at ${where(places[most] ?? {})}.`,
      wanted === null ? "" : keptSentence(widths, wanted, width),
    ]
      .filter((each) => each !== "")
      .join(" "),
    table: {
      columns: [
        heading(slice.along.name, slice.along.unit),
        heading(slice.up.name, slice.up.unit),
        heading("half-width of the mean", shown.unit),
      ],
      rows: coarse.map((settings, index) => [
        rounded(settings[slice.along.name]),
        rounded(settings[slice.up.name]),
        Number((coarseWidths[index] ?? 0).toPrecision(4)),
      ]),
    },
    height,
    drawings: [
      { ...on.options, marks: [...on.under] },
      bandDrawing({ slice, widths, borders, wanted, display }, on),
      { ...on.options, marks: [outline(), runMarks(slice, runs, display)] },
    ],
    letters: on.letters,
    key: sliceKey(borders, wanted, width),
  });
}

function sliceOf(factors: readonly Factor[], options: KnownSliceOptions): Slice {
  const quantities = factors.filter((factor) => factor.kind === "quantity");
  const named = (name: string): QuantityFactor => {
    const factor = plannedFactor(factors, name);
    if (factor.kind === "quantity") return factor;
    throw figureError({
      given: `${name}, which has named levels`,
      expected: "a quantity along and up the frame",
      mend: "Hold it at a level with `at`, and draw one figure a level.",
    });
  };
  const along =
    options.along === undefined ? quantities.find(({ name }) => name !== options.up) : named(options.along);
  const up = options.up === undefined ? quantities.find((factor) => factor !== along) : named(options.up);
  if (along === undefined || up === undefined || along.name === up.name) {
    throw figureError({
      given: `${quantities.length === 1 ? "one quantity" : `${quantities.length} quantities`} to draw over`,
      expected: "two different quantities",
      mend: "Read the half-widths of one factor from the table of the judgement.",
    });
  }
  for (const name of Object.keys(options.at ?? {})) plannedFactor(factors, name);
  const others = factors.filter((factor) => factor !== along && factor !== up);
  const held = others.map((factor) => [factor.name, options.at?.[factor.name] ?? usual(factor)] as const);
  return { along, up, held: Object.fromEntries(held) };
}

function usual(factor: Factor): number | string {
  return factor.kind === "category" ? (factor.levels[0] ?? "") : between(factor, 0.5);
}

/** A setting so far from low to high, in ratio where the factor is spread so. */
function between(factor: QuantityFactor, share: number): number {
  const { low, high } = factor;
  return factor.scale === "log" && low > 0 ? low * (high / low) ** share : low + (high - low) * share;
}

function rounded(setting: number | string | undefined): number {
  return Number(Number(setting ?? 0).toPrecision(3));
}

/** Even places over the slice, row by row from the lowest: the middles of so many cells, or `ends` and places between. */
function gridOf(
  { along, up, held }: Slice,
  count: number,
  places: "middles" | "ends" = "middles",
): readonly Settings[] {
  const shares = Array.from({ length: count }, (_, index) =>
    places === "ends" ? index / (count - 1) : (index + 0.5) / count,
  );
  return shares.flatMap((high) =>
    shares.map((far) => ({ ...held, [along.name]: between(along, far), [up.name]: between(up, high) })),
  );
}

/** Round half-widths between the bands; none where the slice is known alike all over. */
function bordersOf(least: number, most: number): readonly number[] {
  if (!(most > least * 1.02)) return [];
  return evenTicks(least, most, 5).filter((tick) => tick > least * 1.001 && tick < most * 0.999);
}

function keptSentence(widths: readonly number[], wanted: number, width: (value: number) => string): string {
  const kept = widths.filter((each) => each <= wanted).length / widths.length;
  return `${Math.round(100 * kept)} % of the slice keeps ${width(wanted)}.`;
}

function axesOf({ along, up }: Slice, runs: readonly Run[], display: Display): [Axis, Axis] {
  const axis = (factor: QuantityFactor): Axis => {
    const scale = settingScale(factor, runs, display);
    const shown = shownIn(factor.unit, display);
    const ends = [shown.value(factor.low), shown.value(factor.high)] as const;
    const made = quantityAxis({
      name: factor.name,
      unit: scale.unit,
      values: ends,
      log: factor.scale === "log" && factor.low > 0 ? "log" : "linear",
      fixedTicks: scale.places.length > 1 && scale.places.length <= 8 ? scale.places : [],
      margin: 0.07,
    });
    return { ...made, domain: widest(made.domain, scale.places, made.type) };
  };
  return [axis(along), axis(up)];
}

/** Axial runs may stand beyond low and high; they are drawn whole. */
function widest(
  [low, high]: readonly [number, number],
  places: readonly number[],
  type: Axis["type"],
): readonly [number, number] {
  const [first, last] = [Math.min(...places), Math.max(...places)];
  if (first > low && last < high) return [low, high];
  const [from, to] = [Math.min(low, first), Math.max(high, last)];
  const room = type === "log" ? (to / from) ** 0.05 : (to - from) * 0.05;
  return type === "log" ? [from / room, to * room] : [from - room, to + room];
}
