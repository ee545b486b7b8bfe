import * as Plot from "@observablehq/plot";
import { outline, type Framed } from "./frame.ts";
import { lineLabels, type NamedLine } from "./line-labels.ts";
import { groupStyles, palette } from "./palette.ts";
import type { PowerCurve } from "./power-curve.ts";
import { around } from "./reading-marks.ts";
import { withUnit } from "./shown.ts";
import { formatNumber } from "../units/index.ts";

/** Where a curve first reaches the wanted power; null where it does not. */
export type Reached = {
  readonly curve: PowerCurve;
  readonly at: { readonly x: number; readonly power: number } | null;
};

/** The curves, the wanted power across, and where each is first reached. */
export function powerMarks(
  curves: readonly PowerCurve[],
  reached: readonly Reached[],
  options: {
    readonly wanted: number;
    readonly percent: string;
    readonly unit: string;
    readonly along: string;
  },
  on: Framed,
): Plot.Markish[] {
  const { wanted, percent } = options;
  const marks: Plot.Markish[] = [
    ...on.under,
    Plot.ruleY([wanted], {
      stroke: palette.caution,
      strokeWidth: 1.4,
      strokeDasharray: "10 3 2 3",
      className: "part-wanted",
    }),
  ];
  const names: NamedLine[] = [];
  curves.forEach((curve, index) => {
    const style = groupStyles[index];
    if (style === undefined) return;
    const { colour, dash, symbol } = style;
    const few = curve.points.length <= 30;
    marks.push(
      Plot.line(curve.points, {
        x: "x",
        y: "power",
        stroke: colour,
        strokeWidth: 2.2,
        strokeDasharray: dash,
        className: "part-power",
      }),
    );
    if (few)
      marks.push(
        Plot.dot(curve.points, {
          x: "x",
          y: "power",
          r: 3.6,
          symbol,
          fill: colour,
          stroke: palette.paper,
          className: "part-points",
        }),
      );
    if (curve.label !== "")
      names.push({
        text: curve.label,
        colour,
        points: curve.points.map((point) => ({ x: on.x.at(point.x), y: on.y.at(point.power) })),
        likes: "middle",
      });
  });
  const drops = reached.flatMap(({ at, curve }, index) =>
    at === null ? [] : [{ ...at, curve, colour: groupStyles[index]?.colour ?? palette.ink }],
  );
  for (const drop of drops) {
    const foot = on.frame.bottom;
    marks.push(
      Plot.link([drop], {
        x1: "x",
        x2: "x",
        y1: on.y.back(foot),
        y2: "power",
        stroke: drop.colour,
        strokeWidth: 1,
        strokeDasharray: "2 3",
        className: "part-drop",
      }),
    );
    const x = on.x.at(drop.x);
    // Written up the dropped line's foot, where a rising curve leaves room.
    names.push({
      text: `${percent} from ${placeText(drop.x, options)}`,
      colour: drop.colour,
      points: [
        { x: x + 4, y: foot - 5 },
        { x: x + 120, y: foot - 5 },
      ],
      likes: "start",
    });
  }
  return [
    ...marks,
    outline(),
    ...lineLabels(
      names,
      on,
      curves.flatMap(({ points }) =>
        points.map((point) => around(on.x.at(point.x), on.y.at(point.power), 4)),
      ),
    ),
  ];
}

/** "12 passes", "effect on Ra 0.2 µm". */
export function placeText(x: number, words: { readonly along: string; readonly unit: string }): string {
  return words.unit === ""
    ? `${formatNumber(x)} ${words.along}`
    : `${words.along} ${withUnit(formatNumber(x), words.unit)}`;
}
