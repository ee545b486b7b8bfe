import type { Figure } from "./figure.ts";
import { quantityAxis } from "./axis.ts";
import { curveAlong, settingsCut, settingsText, settingText } from "./fit-curve.ts";
import { confidenceText, countText, rowsToDraw } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { interactionText } from "./interaction-text.ts";
import { bandMarks, curveMark, shownCurve } from "./interval-marks.ts";
import { lineLabels } from "./line-labels.ts";
import { settled, type FigureOptions } from "./options.ts";
import { groupStyles, palette } from "./palette.ts";
import { around, readingMarks } from "./reading-marks.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn } from "./shown.ts";
import { runsNear, sliceSettings, twoQuantities, type Slice } from "./slices.ts";
import { placedOthers } from "./told-apart.ts";
import type { Fit } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

export interface SlicesOptions extends FigureOptions {
  /** The quantity along the frame and the one that the slices hold still. Default: the first two quantities of the fit. */
  readonly quantities?: readonly [string, string];
  /** Where the slices lie, four at most, in the factor's own unit. Default: lowest, middle and highest of what was cut. */
  readonly settings?: readonly number[];
  /** Where all other factors stand. Default: their middle, or first level. */
  readonly at?: Readonly<Record<string, Setting>>;
}

const height = 392;
/** Places along the frame that the table tells. */
const told = [0, 0.25, 0.5, 0.75, 1];

/**
 * Slices of a fitted surface: the response against one quantity at three settings of another, each with the band for its mean, its name beside it and the means of the runs cut
 * nearest. Use it to read off a surface what a contour map only hints at: how deep a valley is, and whether it lies elsewhere at another setting. Runs that lie
 * between the slices, or where other factors stood elsewhere, are grey.
 *
 * On logarithms the response is drawn on a scale of ratios, and the middle of a quantity is the geometric one. The table has five places a slice. Refuses fewer than two quantities,
 * unknown factors and categories, more than four slices and settings outside what was cut.
 * Example: `slicesFigure(fit, { quantities: ["feed", "speed"], settings: [150, 220, 300] })`.
 */
export function slicesFigure(fit: Fit, options: SlicesOptions = {}): Figure {
  const { document, display } = settled(options);
  rowsToDraw(fit);
  const [along, apart] = twoQuantities(fit, options.quantities);
  const at = placedOthers(fit, options.at ?? {}, [along.name, apart.name]);
  const shown = { x: shownIn(along.unit, display), y: shownIn(fit.response.unit, display) };
  const spacing = fit.kind === "power-law" ? "log" : "linear";
  const slices = sliceSettings(fit, apart, options.settings).map((setting, index): Slice => ({
    setting,
    text: `${apart.name} ${settingText(apart, setting, display)}`,
    style: groupStyles[index],
    curve: shownCurve(curveAlong(fit, along, { ...at, [apart.name]: setting }, { spacing, points: 61 }), {
      ...shown,
      levels: [],
    }),
  }));
  const others = fit.factors
    .map(({ name }) => name)
    .filter((name) => name !== along.name && name !== apart.name);
  const held = fit.predict(at).at;
  const runs = runsNear(fit, slices, { along, apart, held, shown });
  const cut = settingsCut(fit, along).map((setting) => shown.x.value(Number(setting)));
  const x = quantityAxis({
    name: along.name,
    unit: shown.x.unit,
    values: cut,
    log: spacing,
    fixedTicks: cut.length > 1 && cut.length <= 7 ? cut : [],
    margin: 0.08,
  });
  const y = quantityAxis({
    name: fit.response.name,
    unit: shown.y.unit,
    values: [
      ...runs.map(({ mean }) => mean),
      ...slices.flatMap(({ curve }) =>
        curve.flatMap(({ estimate, mean }) => [estimate, mean?.low ?? estimate, mean?.high ?? estimate]),
      ),
    ].filter((value) => !fit.logScale || value > 0),
    log: fit.logScale ? "log" : "linear",
    second: shown.y.second,
  });
  const on = framed(x, y, { height });
  const means = readingMarks(runs, on, { show: "means" });
  const where = settingsText(fit, held, others, display);
  const title = options.title ?? `${fit.response.name} against ${along.name}, sliced by ${apart.name}`;
  const bands = slices.some(({ curve }) => curve.some(({ mean }) => mean !== null));
  return sheet(document, {
    kind: "slices",
    title,
    note: countText(fit),
    description: interactionText(fit, slices, {
      title,
      unit: shown.y.unit,
      where,
      thinning: means.thinning,
    }),
    table: {
      columns: [
        apart.name,
        heading(along.name, shown.x.unit),
        heading(`fitted ${fit.response.name}`, shown.y.unit),
        heading("mean low", shown.y.unit),
        heading("mean high", shown.y.unit),
      ],
      rows: slices.flatMap(({ setting, curve }) =>
        told.map((share) => {
          const point = curve[Math.round(share * (curve.length - 1))];
          return [
            settingText(apart, setting, display),
            Number(point.x.toPrecision(6)),
            point.estimate,
            point.mean?.low ?? null,
            point.mean?.high ?? null,
          ];
        }),
      ),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          ...slices.flatMap(({ curve, style }) =>
            bandMarks(curve, style, { domain: y.domain, single: "hidden" }),
          ),
          ...slices.map(({ curve, style }) => curveMark(curve, style)),
          ...means.marks,
          outline(),
          ...lineLabels(
            slices.map(({ text, style, curve }) => ({
              text,
              colour: style.colour,
              points: curve.map((point) => ({ x: on.x.at(point.x), y: on.y.at(point.estimate) })),
            })),
            on,
            [...means.taken, ...runs.map((run) => around(on.x.at(run.x), on.y.at(run.mean), 5))],
          ),
        ],
      },
    ],
    letters: on.letters,
    key: [
      { sign: "dot", fill: palette.accent, stroke: palette.paper, radius: 4.6, text: "run by its slice" },
      ...(runs.every(({ strong }) => strong)
        ? []
        : [
            {
              sign: "dot",
              fill: palette.rule,
              stroke: palette.paper,
              radius: 4.6,
              text: "run between slices",
            } as const,
          ]),
      ...(bands
        ? [
            {
              sign: "band",
              colour: palette.accent,
              opacity: 0.17,
              text: `${confidenceText(fit.confidence)}, mean`,
            } as const,
          ]
        : []),
      ...(where === ""
        ? []
        : [{ sign: "line", colour: palette.ink, dash: "none", text: `slices at ${where}` } as const]),
    ],
  });
}
