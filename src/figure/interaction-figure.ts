import * as Plot from "@observablehq/plot";
import { categoryAxis, quantityAxis } from "./axis.ts";
import type { Figure } from "./figure.ts";
import { curveAlong, settingsCut, settingsText, settingText } from "./fit-curve.ts";
import { confidenceText, countText, rowsToDraw } from "./fitted-rows.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { bandMarks, curveMark, shownCurve, type ShownPoint } from "./interval-marks.ts";
import { endPoints, endsOf, runsOn, twoFactors, type InteractionLine } from "./interaction-lines.ts";
import { interactionText } from "./interaction-text.ts";
import type { KeyEntry } from "./key.ts";
import { lineLabels } from "./line-labels.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { groupStyles, palette, type GroupStyle } from "./palette.ts";
import { around, readingMarks } from "./reading-marks.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn, withUnit } from "./shown.ts";
import { placedOthers } from "./told-apart.ts";
import type { Fit } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

export interface InteractionOptions extends FigureOptions {
  /** The factor along the frame and the one told apart by lines. Default: the first quantity (or factor) and the next one. */
  readonly factors?: readonly [string, string];
  /** Where all other factors stand. Default: their middle, or first level. */
  readonly at?: Readonly<Record<string, Setting>>;
}

const height = 372;

/**
 * What one factor does at each setting of another: one fitted line a setting with the band for its mean, and the means of the runs
 * cut there. Lines that run side by side: the factors act apart; lines that open, close or cross: what one does depends on the
 * other. Of a quantity with many settings the lowest and the highest get lines. On logarithms the response is drawn on a scale of
 * ratios, where acting apart shows as parallel lines. The table has the fitted value at each end of each line. Refuses a fit with one
 * factor, and unknown factors.
 * Example: `interactionFigure(fit, { factors: ["feed", "edge"] })`.
 */
export function interactionFigure(fit: Fit, options: InteractionOptions = {}): Figure {
  const { document, display } = settled(options);
  rowsToDraw(fit);
  const [along, apart] = twoFactors(fit, options.factors);
  const at = placedOthers(fit, options.at ?? {}, [along.name, apart.name]);
  const shown = { x: shownIn(along.unit, display), y: shownIn(fit.response.unit, display) };
  const category = along.kind === "category";
  const levels = category ? settingsCut(fit, along).map(String) : [];
  const spacing = fit.kind === "power-law" && !category ? "log" : "linear";
  const lines = endsOf(fit, apart).map((setting, index): InteractionLine => ({
    setting,
    text: `${apart.name} ${settingText(apart, setting, display)}`,
    style: groupStyles[index],
    curve: shownCurve(curveAlong(fit, along, { ...at, [apart.name]: setting }, { spacing, points: 41 }), {
      ...shown,
      levels,
    }),
  }));
  const runs = lines.flatMap((line) => runsOn(fit, line, { along, apart, levels, shown }));
  const values = [
    ...runs.map((run) => run.mean),
    ...lines.flatMap(({ curve }) =>
      curve.flatMap((point) => [
        point.estimate,
        point.mean?.low ?? point.estimate,
        point.mean?.high ?? point.estimate,
      ]),
    ),
  ];
  const cut = settingsCut(fit, along);
  const x = category
    ? categoryAxis(along.name, levels)
    : quantityAxis({
        name: along.name,
        unit: shown.x.unit,
        values: cut.map((setting) => shown.x.value(Number(setting))),
        log: spacing,
        fixedTicks:
          cut.length > 1 && cut.length <= 7 ? cut.map((setting) => shown.x.value(Number(setting))) : [],
        margin: 0.12,
      });
  const y = quantityAxis({
    name: fit.response.name,
    unit: shown.y.unit,
    values,
    log: fit.logScale ? "log" : "linear",
    second: shown.y.second,
  });
  const on = framed(x, y, { height });
  const means = readingMarks(runs, on, { show: "means" });
  const title = options.title ?? `How ${along.name} and ${apart.name} act together on ${fit.response.name}`;
  const marks = [
    ...on.under,
    ...lines.flatMap(({ curve, style }) =>
      category ? barsOf(curve, style) : bandMarks(curve, style, { domain: y.domain, single: "hidden" }),
    ),
    ...lines.map(({ curve, style }) => curveMark(curve, style)),
    ...means.marks,
    outline(),
    ...lineLabels(
      lines.map((line) => ({ text: line.text, colour: line.style.colour, points: pixels(line.curve, on) })),
      on,
      [...means.taken, ...runs.map((run) => around(on.x.at(run.x), on.y.at(run.mean), 5))],
    ),
  ];
  const others = fit.factors
    .map((factor) => factor.name)
    .filter((name) => name !== along.name && name !== apart.name);
  const where = settingsText(fit, fit.predict(at).at, others, display);
  return sheet(document, {
    kind: "interaction",
    title,
    note: countText(fit),
    description: interactionText(fit, lines, {
      title,
      unit: shown.y.unit,
      where,
      thinning: means.thinning,
    }),
    table: {
      columns: [
        apart.name,
        along.name,
        heading(`fitted ${fit.response.name}`, shown.y.unit),
        heading("mean low", shown.y.unit),
        heading("mean high", shown.y.unit),
      ],
      rows: lines.flatMap((line) =>
        endPoints(line.curve).map((point) => [
          settingText(apart, line.setting, display),
          category ? (levels[point.x] ?? "") : withUnit(roundedText(point.x, 4), shown.x.unit),
          point.estimate,
          point.mean?.low ?? null,
          point.mean?.high ?? null,
        ]),
      ),
    },
    height,
    drawings: [{ ...on.options, marks }],
    letters: on.letters,
    key: keyFor(fit, lines, where),
  });
}

function barsOf(curve: readonly ShownPoint[], style: GroupStyle): readonly Plot.Markish[] {
  const bars = curve.flatMap(({ x, mean }) => (mean === null ? [] : [{ x, ...mean }]));
  return [
    Plot.ruleX(bars, {
      x: "x",
      y1: "low",
      y2: "high",
      stroke: style.colour,
      strokeOpacity: 0.35,
      strokeWidth: 8,
      className: "part-band-mean",
    }),
  ];
}

function pixels(
  curve: readonly ShownPoint[],
  on: Framed,
): readonly { readonly x: number; readonly y: number }[] {
  return curve.map(({ x, estimate }) => ({ x: on.x.at(x), y: on.y.at(estimate) }));
}

function keyFor(fit: Fit, lines: readonly InteractionLine[], where: string): readonly KeyEntry[] {
  const key: KeyEntry[] = [
    { sign: "dot", fill: palette.accent, stroke: palette.paper, radius: 4.6, text: "mean of a run" },
  ];
  if (lines.some(({ curve }) => curve.some(({ mean }) => mean !== null)))
    key.push({
      sign: "band",
      colour: palette.accent,
      opacity: 0.17,
      text: `${confidenceText(fit.confidence)}, mean`,
    });
  if (where !== "") key.push({ sign: "line", colour: palette.ink, dash: "none", text: `lines at ${where}` });
  return key;
}
