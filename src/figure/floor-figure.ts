import * as Plot from "@observablehq/plot";
import type { FloorFit, FloorPrediction, ObservedFactor } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";
import { formatNumber } from "../units/index.ts";
import { heldValues, quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { bandMarks, curveMark } from "./interval-marks.ts";
import type { KeyEntry } from "./key.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { groupStyles, palette } from "./palette.ts";
import { readingMarks } from "./reading-marks.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn, withUnit } from "./shown.ts";

export interface FloorFigureOptions extends FigureOptions {
  /** The quantity to draw along. Default: the first one. */
  readonly factor?: string;
  /** Where the other factors stand. Default: their middle by ratio, or first level. */
  readonly at?: Readonly<Record<string, Setting>>;
}

const height = 384;
const steps = 60;
const [style] = groupStyles;

/**
 * A finish with a floor against the feed, both on scales of ratios: the fit with its band, the power law without a floor, and the floor's interval as a band across. Use it to
 * see where the floor takes over from the marks of the feed, and whether the runs go down far enough to show it. Runs are drawn as they were read, whatever the other factors were.
 * One row a run in the table. Refuses a fit that did not settle, and a factor that is no quantity in it.
 * Example: `floorFigure(fitFloor(trial))`.
 */
export function floorFigure(fit: FloorFit, options: FloorFigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const along = alongFactor(fit, options.factor);
  const { rows, factors } = fit.observations;
  const response = shownIn(fit.response.unit, display);
  const feed = shownIn(along.unit, display);
  const others = factors.filter(({ name }) => name !== along.name);
  const at: Record<string, Setting> = Object.fromEntries(
    others.map(({ name, kind, levels, low, high }) => [
      name,
      options.at?.[name] ?? (kind === "quantity" ? Math.sqrt(low * high) : levels[0]),
    ]),
  );
  const cut = [...new Set(rows.map(({ settings }) => Number(settings[along.name])))].sort((a, b) => a - b);
  const curve = between(cut[0], cut[cut.length - 1]).map((setting) => {
    const there = { ...at, [along.name]: setting };
    return { prediction: fit.predict(there), without: fit.without?.predict(there) ?? null, setting };
  });
  const points = curve.map(({ setting, prediction }) =>
    shownPoint(prediction, feed.value(setting), response.value),
  );
  const straight = curve.flatMap(({ setting, without }) =>
    without === null ? [] : [{ x: feed.value(setting), y: response.value(without) }],
  );
  const runs = rows.map(({ settings, value, single }) => ({
    x: feed.value(Number(settings[along.name])),
    mean: response.value(Math.exp(value)),
    single: single.map(response.value),
    style,
    strong: true,
  }));
  const { floor } = fit;
  const ends = "low" in floor ? { low: response.value(floor.low), high: response.value(floor.high) } : null;
  const firm = [
    ...runs.flatMap(({ single, mean }) => [mean, ...single]),
    ...points.map(({ estimate }) => estimate),
    ...straight.map(({ y }) => y),
  ];
  const loose = [
    ...points.flatMap(({ mean }) => (mean === null ? [] : [mean.low, mean.high])),
    ...(ends === null ? [] : [ends.low, ends.high].filter((end) => end > 0)),
  ];
  const x = quantityAxis({
    name: along.name,
    unit: feed.unit,
    values: cut.map(feed.value),
    log: "log",
    fixedTicks: cut.length <= 7 ? cut.map(feed.value) : [],
    margin: 0.07,
    second: feed.second,
  });
  const y = quantityAxis({
    name: fit.response.name,
    unit: response.unit,
    values: heldValues(firm, loose, "log"),
    log: "log",
    second: response.second,
  });
  const on = framed(x, y, { height });
  const held = (value: number) => Math.min(Math.max(value, y.domain[0]), y.domain[1]);
  const readings = readingMarks(runs, on);
  const said = confidenceText(fit.confidence);
  const elsewhere = others.map(({ name, unit }) =>
    typeof at[name] === "number"
      ? `${name} ${withUnit(formatNumber(at[name], { digits: 3 }), unit)}`
      : `${name} ${at[name]}`,
  );
  const title = options.title ?? `${fit.response.name} down to its floor`;
  const floorText =
    ends === null
      ? "no bound"
      : `${said} ${ends.low > 0 ? roundedText(ends.low, 3) : "none"} to ${withUnit(roundedText(ends.high, 3), response.unit)}`;
  return sheet(document, {
    kind: "floor",
    title,
    note: [`floor: ${floorText}`, ...elsewhere].join("; "),
    description: `${title}, ${rows.length} runs at ${along.name} ${formatNumber(feed.value(cut[0]))} to ${withUnit(formatNumber(feed.value(cut[cut.length - 1])), feed.unit)}. ${fit.sentences.join(" ")}`,
    table: {
      columns: [
        "run",
        heading(along.name, feed.unit),
        heading(fit.response.name, response.unit),
        heading("fitted with a floor", response.unit),
        heading("fitted without", response.unit),
      ],
      rows: rows.map(({ run, settings, value }) => [
        run,
        feed.value(Number(settings[along.name])),
        response.value(Math.exp(value)),
        response.value(fit.predict(settings).estimate),
        fit.without === null ? null : response.value(fit.without.predict(settings)),
      ]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...(ends === null
            ? []
            : [
                Plot.rectY([{ from: held(ends.low), to: held(ends.high) }], {
                  y1: "from",
                  y2: "to",
                  fill: palette.caution,
                  fillOpacity: 0.14,
                  className: "part-floor",
                }),
              ]),
          ...on.under,
          ...bandMarks(points, style, { domain: y.domain, single: "hidden" }),
          Plot.line(straight, {
            x: "x",
            y: "y",
            stroke: palette.ink,
            strokeWidth: 1.6,
            strokeDasharray: "7 4",
            className: "part-without",
          }),
          curveMark(points, style),
          ...readings.marks,
          outline(),
        ],
      },
    ],
    letters: on.letters,
    key: keyOf(readings.means, said, { floor: ends !== null, without: straight.length > 0 }),
  });
}

function alongFactor(fit: FloorFit, name: string | undefined): ObservedFactor {
  if (!fit.converged)
    throw figureError({
      given: `a floor of ${fit.response.name} that no search settled on`,
      expected: "a fit that settled",
      mend: "Draw responseFigure of a power law.",
    });
  const quantities = fit.observations.factors.filter(({ kind }) => kind === "quantity");
  const found = name === undefined ? quantities[0] : quantities.find((factor) => factor.name === name);
  if (found !== undefined) return found;
  throw figureError({
    given: `factor "${name}"`,
    expected: `a quantity of this fit (${quantities.map((each) => each.name).join(", ")})`,
    mend: "Name one of these.",
  });
}

/** Even in ratio, the ends as they were cut. */
function between(low: number, high: number): readonly number[] {
  return Array.from({ length: steps + 1 }, (_, k) =>
    k === 0 ? low : k === steps ? high : low * (high / low) ** (k / steps),
  );
}

function shownPoint({ estimate, mean }: FloorPrediction, x: number, value: (given: number) => number) {
  return {
    x,
    estimate: value(estimate),
    mean: { low: value(mean.low), high: value(mean.high) },
    single: null,
  };
}

function keyOf(
  means: boolean,
  said: string,
  drawn: { readonly floor: boolean; readonly without: boolean },
): readonly KeyEntry[] {
  const { colour } = style;
  return [
    {
      sign: "dot",
      fill: means ? colour : palette.paper,
      stroke: colour,
      radius: 4,
      text: means ? "mean of a run" : "run",
    },
    { sign: "line", colour, dash: "none", text: "with a floor" },
    { sign: "band", colour, opacity: 0.17, text: `${said}, mean` },
    ...(drawn.without ? [{ sign: "line", colour: palette.ink, dash: "7 4", text: "without" } as const] : []),
    ...(drawn.floor
      ? [{ sign: "band", colour: palette.caution, opacity: 0.14, text: `${said}, floor` } as const]
      : []),
  ];
}
