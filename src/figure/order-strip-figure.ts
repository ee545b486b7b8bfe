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
import { plannedRuns, roleNames, settingScale, type PlannedRuns, type SettingScale } from "./planned-runs.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";
import { shortened, textWidth } from "./text-width.ts";
import type { Run } from "../trial/index.ts";

export type OrderStripOptions = FigureOptions;

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
 * factor, and how many setting changes an order asks for. One row a run in the table. Refuses a plan without runs or factors.
 * Example: `orderStripFigure({ runs: layout.runs, factors })`, or `orderStripFigure(trial)`.
 */
export function orderStripFigure(input: PlannedRuns, options: OrderStripOptions = {}): Figure {
  const { document, display } = settled(options);
  const { runs, factors } = plannedRuns(input);
  const strips = factors.map((factor): Strip => {
    const scale = settingScale(factor, runs, display);
    return {
      scale,
      withOrder: movesWithOrder(runs, factor),
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
    name: "place in cutting order",
    unit: "",
    values: [0.5, runs.length + 0.5],
    count: 14,
    margin: 0,
    whole: "only",
  });
  const drawings: Plot.PlotOptions[] = [];
  const letters: Letters[] = [];
  let top = 30;
  strips.forEach((strip, index) => {
    const frame: Frame = { width: 640, height: total, left, right: 612, top, bottom: top + strip.height };
    const on = framedIn(across, strip.axis, frame, {
      across: index === strips.length - 1 ? "lettered" : "bare",
    });
    drawings.push({ ...on.options, marks: [...on.under, ...stripMarks(strip.scale, runs, on), outline()] });
    letters.push(...on.letters.filter((each) => each.y > frame.bottom), ...stripLetters(strip, frame));
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
      `${title}: ${runs.length} runs.`,
      ...strips.map(
        (strip) => `${strip.scale.factor.name} moves with order by ${correlationText(strip.withOrder)}.`,
      ),
      moving.length === 0
        ? "No factor moves strongly with order."
        : `Wear or warm-up could pass for ${moving.map((strip) => strip.scale.factor.name).join(", ")}.`,
    ].join(" "),
    table: {
      columns: [
        "run",
        "block",
        "role",
        ...factors.map((factor) => heading(factor.name, factor.kind === "quantity" ? factor.unit : "")),
      ],
      rows: runs.map((run) => [
        run.run,
        run.block,
        roleNames[run.role],
        ...factors.map((factor) => run.settings[factor.name] ?? null),
      ]),
    },
    height: total - 6,
    drawings,
    letters,
    key: stripKey(runs),
  });
}

function movesWithOrder(runs: readonly Run[], factor: SettingScale["factor"]): number {
  const found = correlationWithOrder(runs, [factor]).map(({ correlation }) => correlation);
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

function stripMarks(scale: SettingScale, runs: readonly Run[], on: Framed): readonly Plot.Markish[] {
  const bar = Math.min(9, ((on.frame.bottom - on.frame.top) / Math.max(scale.places.length, 2)) * 0.6);
  const drawn = runs.map((run, index) => {
    const y = on.y.at(scale.placeOf(run));
    return {
      x1: index + 0.6,
      x2: index + 1.4,
      y1: on.y.back(y + bar / 2),
      y2: on.y.back(y - bar / 2),
      anchor: run.role === "anchor",
    };
  });
  const borders = runs.flatMap((run, index) =>
    index > 0 && run.block !== runs[index - 1]?.block ? [index + 0.5] : [],
  );
  const marks: Plot.Markish[] = [
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

function stripLetters(strip: Strip, frame: Frame): readonly Letters[] {
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
      text: `moves with order: ${correlationText(withOrder)}`,
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

function stripKey(runs: readonly Run[]): readonly KeyEntry[] {
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
  if (new Set(runs.map((run) => run.block)).size > 1)
    key.push({ sign: "line", colour: palette.ink, dash: "3 2", text: "block border" });
  return key;
}
