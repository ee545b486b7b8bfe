import * as Plot from "@observablehq/plot";
import { correlationWithOrder } from "../layout/index.ts";
import { categoryAxis, quantityAxis, type Axis } from "./axis.ts";
import type { Figure } from "./figure.ts";
import type { Frame } from "./frame-box.ts";
import { framedIn, outline, type Framed } from "./frame.ts";
import type { KeyEntry } from "./key.ts";
import type { Letters } from "./letters.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { checkCount, edgeBorders, freshEdges, inset, spansOf, type Span } from "./order-strip-wear.ts";
import { plannedRuns, roleNames, settingScale, type PlannedRuns, type SettingScale } from "./planned-runs.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";
import { shortened, textWidth } from "./text-width.ts";
import type { Run } from "../trial/index.ts";
import { formatNumber } from "../units/index.ts";

export interface OrderStripOptions extends FigureOptions {
  /** Minutes in cut of each run, in cutting order: the strips then run along these, since wear does. Left out: one place a run. */
  readonly minutes?: readonly number[];
  /** Which edge cuts each run, in cutting order: a line where another one is taken. */
  readonly edges?: readonly number[];
}

/** From here on a factor is said to move with cutting order: a fifth of its variance goes along with it. */
const noticed = 0.45;

interface Strip {
  readonly scale: SettingScale;
  /** −1 to 1; for a category of several levels the strongest of its comparisons. */
  readonly withOrder: number;
  readonly axis: Axis;
  readonly height: number;
}

/**
 * What each factor is set to, run by run in cutting order: one strip a factor, a bar at the setting of each run, block borders and
 * anchor runs marked, and how strongly the factor moves with order (−1 to 1). Use it to see whether wear or warm-up could pass for a
 * factor, and how many setting changes an order asks for. With `minutes` a bar is as long as its run is in cut, and a factor is judged
 * against these minutes. One row a run in the table. Refuses a plan without runs or factors, and minutes or edges that are not one a run.
 * Example: `orderStripFigure({ runs: layout.runs, factors })`, or `orderStripFigure(trial)`.
 */
export function orderStripFigure(input: PlannedRuns, options: OrderStripOptions = {}): Figure {
  const { document, display } = settled(options);
  const { runs, factors } = plannedRuns(input);
  const { minutes, edges } = options;
  checkCount("minutes", minutes, runs);
  checkCount("edges", edges, runs);
  const spans = spansOf(runs, minutes);
  const against = minutes === undefined ? "order" : "minutes in cut";
  const strips = factors.map((factor): Strip => {
    const scale = settingScale(factor, runs, display);
    return {
      scale,
      withOrder: movesWithOrder(runs, factor, minutes),
      axis: stripAxis(scale),
      height: Math.min(110, Math.max(40, 16 * Math.min(scale.places.length, 6) + 12)),
    };
  });
  const left = Math.max(
    70,
    ...strips.flatMap(({ axis }) =>
      axis.texts.map((text) => textWidth(shortened(text, 120, lettering.small), lettering.small) + 28),
    ),
  );
  const total = strips.reduce((sum, strip) => sum + strip.height + 30, 0) + 56;
  const across = quantityAxis({
    name: minutes === undefined ? "place in cutting order" : "minutes in cut",
    unit: "",
    values: [spans[0]?.from ?? 0, spans.at(-1)?.to ?? 1],
    count: minutes === undefined ? 14 : 8,
    margin: 0,
    whole: minutes === undefined ? "only" : "any",
  });
  const drawings: Plot.PlotOptions[] = [];
  const letters: Letters[] = [];
  let top = 30;
  strips.forEach((strip, index) => {
    const frame: Frame = { width: 640, height: total, left, right: 612, top, bottom: top + strip.height };
    const on = framedIn(across, strip.axis, frame, {
      across: index === strips.length - 1 ? "lettered" : "bare",
    });
    drawings.push({
      ...on.options,
      marks: [...on.under, ...stripMarks(strip.scale, { runs, spans, edges }, on), outline()],
    });
    letters.push(
      ...on.letters.filter((each) => each.y > frame.bottom),
      ...stripLetters(strip, frame, against),
    );
    top += strip.height + 30;
  });
  const title = options.title ?? "Settings in cutting order";
  const moving = strips.filter((strip) => Math.abs(strip.withOrder) >= noticed);
  return sheet(document, {
    kind: "settings-in-order",
    title,
    note: `${runs.length} ${runs.length === 1 ? "run" : "runs"}, ${changes(
      runs,
      factors.map((factor) => factor.name),
    )} setting changes`,
    description: [
      `${title}: ${runs.length} runs${minutes === undefined ? "" : `, ${formatNumber(spans.at(-1)?.to ?? 0, { digits: 3 })} minutes in cut`}.`,
      freshEdges(runs, edges),
      ...strips.map(
        (strip) => `${strip.scale.factor.name} moves with ${against} by ${correlationText(strip.withOrder)}.`,
      ),
      moving.length === 0
        ? `No factor moves strongly with ${against}.`
        : `Wear or warm-up could pass for ${moving.map((strip) => strip.scale.factor.name).join(", ")}.`,
    ]
      .filter((text) => text !== "")
      .join(" "),
    table: {
      columns: [
        "run",
        "block",
        "role",
        ...factors.map((factor) => heading(factor.name, factor.kind === "quantity" ? factor.unit : "")),
        ...(minutes === undefined ? [] : ["minutes in cut"]),
        ...(edges === undefined ? [] : ["edge"]),
      ],
      rows: runs.map((run, index) => [
        run.run,
        run.block,
        roleNames[run.role],
        ...factors.map((factor) => run.settings[factor.name] ?? null),
        ...(minutes === undefined ? [] : [minutes[index] ?? null]),
        ...(edges === undefined ? [] : [edges[index] ?? null]),
      ]),
    },
    height: total - 6,
    drawings,
    letters,
    key: stripKey(runs, edges),
  });
}

function movesWithOrder(
  runs: readonly Run[],
  factor: SettingScale["factor"],
  minutes: readonly number[] | undefined,
): number {
  const found = correlationWithOrder(runs, [factor], minutes === undefined ? {} : { minutes }).map(
    ({ correlation }) => correlation,
  );
  return found.reduce((strongest, each) => (Math.abs(each) > Math.abs(strongest) ? each : strongest), 0);
}

function stripAxis(scale: SettingScale): Axis {
  const { factor, places } = scale;
  if (factor.kind === "category") return categoryAxis(factor.name, scale.texts);
  const margin = 0.5 / Math.max(places.length - 1, 1);
  const fixedTicks =
    places.length > 1 && places.length <= 6
      ? places
      : places.length > 6
        ? [places[0] ?? 0, places.at(-1) ?? 0]
        : [];
  return quantityAxis({
    name: factor.name,
    unit: scale.unit,
    values: places,
    log: scale.log,
    fixedTicks,
    margin: Math.min(margin, 0.3),
    count: 3,
  });
}

function stripMarks(
  scale: SettingScale,
  order: {
    readonly runs: readonly Run[];
    readonly spans: readonly Span[];
    readonly edges: readonly number[] | undefined;
  },
  on: Framed,
): readonly Plot.Markish[] {
  const { runs, spans, edges } = order;
  const fresh = edgeBorders(edges);
  const bar = Math.min(9, ((on.frame.bottom - on.frame.top) / Math.max(scale.places.length, 2)) * 0.6);
  const drawn = runs.map((run, index) => {
    const y = on.y.at(scale.placeOf(run));
    return {
      ...inset(spans[index]),
      y1: on.y.back(y + bar / 2),
      y2: on.y.back(y - bar / 2),
      anchor: run.role === "anchor",
    };
  });
  const borders = runs.flatMap((run, index) =>
    index > 0 && run.block !== runs[index - 1]?.block && !fresh.includes(index)
      ? [spans[index]?.from ?? 0]
      : [],
  );
  const marks: Plot.Markish[] = [
    Plot.ruleX(
      fresh.map((index) => spans[index]?.from ?? 0),
      { stroke: palette.ink, strokeWidth: 2, className: "part-fresh-edges" },
    ),
    Plot.ruleX(borders, {
      stroke: palette.ink,
      strokeWidth: 1.4,
      strokeDasharray: "3 2",
      className: "part-block-borders",
    }),
    Plot.rect(drawn, {
      x1: "x1",
      x2: "x2",
      y1: "y1",
      y2: "y2",
      fill: (each: { anchor: boolean }) => (each.anchor ? palette.paper : palette.accent),
      stroke: (each: { anchor: boolean }) => (each.anchor ? palette.ink : palette.accent),
      strokeWidth: 1.2,
      className: "part-settings",
    }),
  ];
  return marks;
}

function stripLetters(strip: Strip, frame: Frame, against: string): readonly Letters[] {
  const { scale, withOrder } = strip;
  const name = scale.unit === "" ? scale.factor.name : `${scale.factor.name}, ${scale.unit}`;
  const strong = Math.abs(withOrder) >= noticed;
  return [
    {
      x: 16,
      y: frame.top - 8,
      text: shortened(name, 360, lettering.usual),
      anchor: "start",
      size: lettering.usual,
      weight: "bold",
    },
    {
      x: frame.right,
      y: frame.top - 8,
      text: `moves with ${against}: ${correlationText(withOrder)}`,
      anchor: "end",
      colour: strong ? palette.caution : palette.quiet,
      weight: strong ? "bold" : "normal",
    },
  ];
}

function correlationText(correlation: number): string {
  const text = Math.abs(correlation) < 0.005 ? "0.00" : correlation.toFixed(2);
  return text.replace("-", "−");
}

/** How often any setting differs from the run before. */
function changes(runs: readonly Run[], names: readonly string[]): number {
  return runs.slice(1).reduce((sum, run, index) => {
    const before = runs[index];
    return sum + names.filter((name) => run.settings[name] !== before?.settings[name]).length;
  }, 0);
}

function stripKey(runs: readonly Run[], edges: readonly number[] | undefined): readonly KeyEntry[] {
  const key: KeyEntry[] = [];
  if (runs.some((run) => run.role === "anchor"))
    key.push({
      sign: "dot",
      shape: "square",
      fill: palette.paper,
      stroke: palette.ink,
      radius: 4.5,
      text: "outlined: anchor run",
    });
  const fresh = edgeBorders(edges);
  if (fresh.length > 0)
    key.push({ sign: "line", colour: palette.ink, dash: "none", width: 2, text: "another edge" });
  const isBorder = (run: Run, index: number): boolean =>
    index > 0 && run.block !== runs[index - 1]?.block && !fresh.includes(index);
  if (runs.some(isBorder)) key.push({ sign: "line", colour: palette.ink, dash: "3 2", text: "block border" });
  return key;
}
