import * as Plot from "@observablehq/plot";
import { outline, type Framed } from "./frame.ts";
import { lineLabels, type NamedLine } from "./line-labels.ts";
import { groupStyles, lettering, palette, type GroupStyle } from "./palette.ts";
import type { PowerCurve } from "./power-curve.ts";
import { around } from "./reading-marks.ts";
import { withUnit } from "./shown.ts";
import { textWidth } from "./text-width.ts";
import { formatNumber } from "../units/index.ts";

/** Where a curve first reaches the wanted power; null where it does not. */
export type Reached = {
  readonly curve: PowerCurve;
  readonly at: { readonly x: number; readonly power: number } | null;
};

interface PowerWords {
  readonly wanted: number;
  readonly percent: string;
  readonly unit: string;
  readonly along: string;
}

/** The curves, the wanted power across, and where each is first reached. */
export function powerMarks(
  curves: readonly PowerCurve[],
  reached: readonly Reached[],
  words: PowerWords,
  on: Framed,
): readonly Plot.Markish[] {
  const wantedLine = Plot.ruleY([words.wanted], {
    stroke: palette.caution,
    strokeWidth: 1.4,
    strokeDasharray: "10 3 2 3",
    className: "part-wanted",
  });
  const taken = curves.flatMap(({ points }) =>
    points.map((point) => around(on.x.at(point.x), on.y.at(point.power), 4)),
  );
  const wantedAt = on.y.at(words.wanted);
  const across = { left: on.frame.left, right: on.frame.right, top: wantedAt - 2, bottom: wantedAt + 2 };
  return [
    ...on.under,
    wantedLine,
    ...curves.flatMap((curve, index) => curveMarks(curve, groupStyles[index])),
    ...dropMarks(reached, words, on),
    outline(),
    ...lineLabels(names(curves, on), on, [across, ...taken]),
  ];
}

function curveMarks(curve: PowerCurve, { colour, dash, symbol }: GroupStyle): readonly Plot.Markish[] {
  const place = { x: "x", y: "power" } as const;
  const line = { ...place, stroke: colour, strokeWidth: 2.2, strokeDasharray: dash, className: "part-power" };
  const dots = { ...place, r: 3.6, symbol, fill: colour, stroke: palette.paper, className: "part-points" };
  // Close points would run into a string of beads.
  return [
    Plot.line(curve.points, line),
    ...(curve.points.length <= 30 ? [Plot.dot(curve.points, dots)] : []),
  ];
}

function names(curves: readonly PowerCurve[], on: Framed): readonly NamedLine[] {
  return curves.map(({ label, points }, index) => ({
    text: label,
    colour: groupStyles[index].colour,
    points: points.map((point) => ({ x: on.x.at(point.x), y: on.y.at(point.power) })),
    likes: "middle",
  }));
}

/** A line down from where a curve first reaches what is wanted, with the place written beside its foot. */
function dropMarks(reached: readonly Reached[], words: PowerWords, on: Framed): readonly Plot.Markish[] {
  const { frame } = on;
  const drops = reached.flatMap(({ at }, index) =>
    at === null ? [] : [{ ...at, colour: groupStyles[index].colour }],
  );
  return drops.flatMap((drop, index) => {
    const place = words.unit === "" ? placeText(drop.x, words) : withUnit(formatNumber(drop.x), words.unit);
    const text = `${words.percent} from ${place}`;
    const right = on.x.at(drop.x) + 8 + textWidth(text, lettering.small) < frame.right - 4;
    return [
      Plot.link([drop], {
        x1: "x",
        x2: "x",
        y1: on.y.back(frame.bottom),
        y2: "power",
        stroke: drop.colour,
        strokeWidth: 1,
        strokeDasharray: "2 3",
        className: "part-drop",
      }),
      Plot.text([drop], {
        x: "x",
        // One above the other, since two curves may get there together.
        y: on.y.back(frame.bottom - 13 - 17 * index),
        dx: right ? 6 : -6,
        textAnchor: right ? "start" : "end",
        text: () => text,
        fill: drop.colour,
        stroke: palette.paper,
        strokeWidth: 3.5,
        fontSize: lettering.small,
        className: "part-reached",
      }),
    ];
  });
}

/** "12 passes", "effect on Ra 0.2 µm". */
export function placeText(x: number, words: { readonly along: string; readonly unit: string }): string {
  return words.unit === ""
    ? `${formatNumber(x)} ${words.along}`
    : `${words.along} ${withUnit(formatNumber(x), words.unit)}`;
}
