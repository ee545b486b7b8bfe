import * as Plot from "@observablehq/plot";
import { limitRoom, type Fit, type LimitAsked, type LimitRoom } from "../model/index.ts";
import { factorNamed, settingText, type QuantityFactor, type Setting, type Trial } from "../trial/index.ts";
import { listed } from "../units/index.ts";
import { quantityAxis } from "./axis.ts";
import { hatch, levelNames, mapLine, onSheet, places, type MapBox } from "./contour-marks.ts";
import { spots } from "./contour-spots.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed, outline } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { heading, shownIn, withUnit } from "./shown.ts";
import { sheet } from "./sheet.ts";
import { evenTicks } from "./ticks.ts";

export interface ContourOptions extends FigureOptions {
  /** Limits by response, as in `jointRecipe`; those left out keep the trial's own. */
  readonly limits?: Readonly<Record<string, LimitAsked>>;
  /** The response whose contours are drawn. Default: that of the first fit. */
  readonly of?: string;
  /** Quantities along the frame and up it. Default: the first two of the models. */
  readonly along?: string;
  readonly up?: string;
  /** Where the other factors are held. Default: the middle of a quantity, the first level of a category. */
  readonly at?: Readonly<Record<string, Setting>>;
  /** Settings to mark, such as those of a recipe. */
  readonly mark?: Readonly<Record<string, Setting>>;
}

const height = 400;

/**
 * Contours of a fitted response over two quantities, with the ground where all limits are kept left free and the rest hatched, and how sure the border is: the line where the
 * bounds meet the limits, the line where the estimates do, and the line beyond which a limit is broken as surely. Other factors stand where it is said.
 *
 * Runs are dots, `mark` a diamond. One row a place of a coarse grid in the table. Refuses fewer than two quantities, an unknown factor, and what `jointRecipe` refuses.
 * Example: `contourFigure(trial, [fitOfRa, fitOfPower], { at: { edge: "used" }, mark: recipe.settings })`.
 */
export function contourFigure(trial: Trial, fits: readonly Fit[], options: ContourOptions = {}): Figure {
  const { document, display } = settled({ trial, ...options });
  const { along, up, held } = mapOf(trial, fits, options);
  const shownFit = fits.find(({ response }) => response.name === (options.of ?? fits[0]?.response.name));
  if (shownFit === undefined)
    throw figureError({
      given: `contours of ${options.of ?? "nothing"}`,
      expected: `a fitted response: ${listed(
        fits.map(({ response }) => response.name),
        "or",
      )}`,
      mend: "Fit it first.",
    });
  const which = fits.indexOf(shownFit);
  const room = limitRoom(trial, fits, options.limits === undefined ? {} : { limits: options.limits });
  const at = (x: number, y: number): readonly LimitRoom[] =>
    room.at({ ...held, [along.name]: between(along, x), [up.name]: between(up, y) });
  const grid = Array.from({ length: places * places }, (_, k) =>
    at(((k % places) + 0.5) / places, (Math.floor(k / places) + 0.5) / places),
  );
  const response = shownIn(shownFit.response.unit, display);
  const estimates = grid.map((one) => response.value(one[which].estimate));
  const least = (read: (one: LimitRoom) => number): number[] =>
    grid.map((one) => one.reduce((all, each) => Math.min(all, read(each)), Infinity));
  const assured = least((one) => one.assured);
  const hopeful = least((one) => one.hopeful);
  const axes = [along, up].map((factor) => {
    const { value, unit } = shownIn(factor.unit, display);
    return quantityAxis({
      name: factor.name,
      unit,
      values: [value(factor.low), value(factor.high)],
      log: factor.scale === "log" && factor.low > 0 ? "log" : "linear",
      margin: 0.06,
    });
  });
  const on = framed(axes[0], axes[1], { height });
  const [xUnit, yUnit] = [shownIn(along.unit, display), shownIn(up.unit, display)];
  const box: MapBox = {
    x1: on.x.at(xUnit.value(along.low)),
    x2: on.x.at(xUnit.value(along.high)),
    y1: on.y.at(yUnit.value(up.low)),
    y2: on.y.at(yUnit.value(up.high)),
  };
  const [lowest, highest] = [Math.min(...estimates), Math.max(...estimates)];
  const levels = evenTicks(lowest, highest, 6).filter((tick) => tick > lowest && tick < highest);
  const share = assured.filter((value) => value >= 0).length / grid.length;
  const doubtful = assured.filter((value, k) => value < 0 && (hopeful[k] ?? 0) >= 0).length / grid.length;
  const heldText = Object.entries(held)
    .map(
      ([name, setting]) => `${name} ${settingText(factorNamed(trial.spec, name), rounded(setting), display)}`,
    )
    .join(", ");
  const limitText = room.limits
    .map((one) => {
      const { value, unit } = shownIn(one.unit, display);
      return `${one.response} ${one.side === "at-most" ? "≤" : "≥"} ${withUnit(roundedText(value(one.limit), 3), unit)}`;
    })
    .join(", ");
  const title = options.title ?? `${shownFit.response.name} over ${along.name} and ${up.name}`;
  const coarse = [0, 0.25, 0.5, 0.75, 1].flatMap((y) => [0, 0.25, 0.5, 0.75, 1].map((x) => ({ x, y })));
  return sheet(document, {
    kind: "contours",
    title,
    note: heldText === "" ? "" : `held: ${heldText}`,
    description: [
      `${title}${heldText === "" ? "" : `, at ${heldText}`}: from ${withUnit(roundedText(lowest, 3), response.unit)} to ${withUnit(roundedText(highest, 3), response.unit)}.`,
      `${percentText(share)} of the map keeps ${limitText} with the assurance asked for; on a further ${percentText(doubtful)} it can't be told yet.`,
    ].join(" "),
    table: {
      columns: [
        heading(along.name, xUnit.unit),
        heading(up.name, yUnit.unit),
        heading(shownFit.response.name, response.unit),
        "limits",
      ],
      rows: coarse.map(({ x, y }) => {
        const here = at(x, y);
        const worst = (read: (one: LimitRoom) => number): number => Math.min(...here.map(read));
        return [
          rounded(xUnit.value(between(along, x))),
          rounded(yUnit.value(between(up, y))),
          Number(response.value(here[which].estimate).toPrecision(4)),
          worst((one) => one.assured) >= 0
            ? "kept"
            : worst((one) => one.hopeful) < 0
              ? "broken"
              : "can't be told",
        ];
      }),
    },
    height,
    drawings: [
      { ...on.options, marks: [...on.under] },
      onSheet(on, [
        ...hatch(assured, hopeful, box),
        ...levels.flatMap((level) =>
          mapLine(estimates, level, box, {
            stroke: palette.accent,
            strokeWidth: 1,
            className: "part-contours",
          }),
        ),
        ...mapLine(hopeful, 0, box, {
          stroke: palette.caution,
          strokeWidth: 1,
          strokeDasharray: "2 3",
          className: "part-broken",
        }),
        ...mapLine(
          least((one) => one.estimated),
          0,
          box,
          {
            stroke: palette.caution,
            strokeWidth: 1.4,
            strokeDasharray: "10 3 2 3",
            className: "part-estimate",
          },
        ),
        ...mapLine(assured, 0, box, { stroke: palette.caution, strokeWidth: 2.2, className: "part-border" }),
        // Lines close themselves along the edge of what was cut; they say nothing there.
        Plot.rect([box], {
          x1: "x1",
          x2: "x2",
          y1: "y1",
          y2: "y2",
          fill: "none",
          stroke: palette.paper,
          strokeWidth: 4,
          className: "part-edge",
        }),
        Plot.rect([box], {
          x1: "x1",
          x2: "x2",
          y1: "y1",
          y2: "y2",
          fill: "none",
          stroke: palette.rule,
          strokeDasharray: "3 3",
          className: "part-region",
        }),
        ...levelNames(estimates, levels, box),
      ]),
      {
        ...on.options,
        marks: [outline(), ...spots(fits, { along, up, mark: options.mark }, display)],
      },
    ],
    letters: on.letters,
    key: [
      {
        sign: "line",
        colour: palette.accent,
        dash: "none",
        text: `${shownFit.response.name}${response.unit === "" ? "" : `, ${response.unit}`}`,
      },
      {
        sign: "line",
        colour: palette.caution,
        dash: "none",
        width: 2.2,
        text: `limits kept this side: ${limitText}`,
      },
      { sign: "line", colour: palette.caution, dash: "10 3 2 3", text: "by the estimates" },
      { sign: "line", colour: palette.caution, dash: "2 3", text: "surely broken beyond" },
      { sign: "dot", fill: palette.paper, stroke: palette.ink, radius: 3.4, text: "run" },
      ...(options.mark === undefined
        ? []
        : [
            {
              sign: "dot",
              shape: "diamond",
              fill: palette.accent,
              stroke: palette.paper,
              radius: 6,
              text: "recipe",
            } as const,
          ]),
    ],
  });
}

function percentText(share: number): string {
  return `${Math.round(100 * share)} %`;
}

function rounded<Given extends Setting>(setting: Given): Given {
  return (typeof setting === "number" ? Number(setting.toPrecision(3)) : setting) as Given; // the kind of setting stays
}

function mapOf({ spec }: Trial, fits: readonly Fit[], options: ContourOptions) {
  const inModel = new Set(fits.flatMap(({ terms }) => terms.flatMap((term) => Object.keys(term))));
  const quantities = spec.factors.filter(
    (factor): factor is QuantityFactor => factor.kind === "quantity" && inModel.has(factor.name),
  );
  const named = (name: string): QuantityFactor | undefined =>
    quantities.find((factor) => factor.name === name);
  const along =
    options.along === undefined ? quantities.find(({ name }) => name !== options.up) : named(options.along);
  const up = options.up === undefined ? quantities.find((factor) => factor !== along) : named(options.up);
  if (along === undefined || up === undefined || along === up)
    throw figureError({
      given: `${listed([options.along ?? "", options.up ?? ""].filter((name) => name !== "")) || `${quantities.length} quantities in the models`}`,
      expected: "two different quantities of the models along and up the frame",
      mend: "Draw responseFigure for one quantity.",
    });
  for (const name of Object.keys(options.at ?? {})) factorNamed(spec, name);
  const held = Object.fromEntries(
    spec.factors
      .filter((factor) => factor !== along && factor !== up && inModel.has(factor.name))
      .map((factor): [string, Setting] => [
        factor.name,
        options.at?.[factor.name] ??
          (factor.kind === "category" ? (factor.levels[0] ?? "") : between(factor, 0.5)),
      ]),
  );
  return { along, up, held };
}

/** A setting so far from low to high, in ratio where the factor is spread so. */
function between({ low, high, scale }: QuantityFactor, share: number): number {
  return scale === "log" && low > 0 ? low * (high / low) ** share : low + (high - low) * share;
}
