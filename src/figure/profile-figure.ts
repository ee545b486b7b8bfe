import * as Plot from "@observablehq/plot";
import type { ParameterProfile } from "../model/index.ts";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn, withUnit } from "./shown.ts";

const height = 360;

/**
 * The profile likelihood of one parameter of a curve or a floor, as the root of what is lost, which for a straight-line parameter is a straight line through the
 * estimate. The interval is where it lies between the two broken lines. Use it to see whether an interval is lopsided, or open on one side. One row a
 * point in the table. Refuses a profile of fewer than three points.
 * Example: `profileFigure(fitCurve(table, …).profile("settle")!)`.
 */
export function profileFigure(profile: ParameterProfile, options: FigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const { name, limit, confidence, points } = profile;
  if (points.length < 3)
    throw figureError({
      given: `a profile of ${name} in ${points.length} points`,
      expected: "three points at least",
      mend: "Fit the curve with runs to spare.",
    });
  const shown = shownIn(profile.unit, display);
  const places = points.map(({ value, root }) => ({ value: shown.value(value), root }));
  const most = 1.35 * limit;
  const drawn = places.filter(({ root }) => Math.abs(root) <= most);
  const at = (value: number | null) => (value === null ? null : shown.value(value));
  const [low, high, estimate] = [at(profile.low), at(profile.high), shown.value(profile.estimate)];
  const x = quantityAxis({
    name,
    unit: shown.unit,
    values: drawn.map(({ value }) => value),
    margin: 0.04,
    second: shown.second,
  });
  const y = quantityAxis({
    name: "root of what the fit loses",
    unit: "sd",
    values: [-most, most],
    count: 5,
    margin: 0.04,
  });
  const on = framed(x, y, { height });
  const said = confidenceText(confidence);
  const text = (value: number | null) =>
    value === null ? "no bound" : withUnit(roundedText(value, 3), shown.unit);
  const title = options.title ?? `How sharply the runs place ${name}`;
  return sheet(document, {
    kind: "profile",
    title,
    note: `best ${roundedText(estimate, 3)}, ${said} ${text(low)} to ${text(high)}`,
    description: `${title}: best ${text(estimate)}; between the broken lines, at ${roundedText(limit, 3)}, the ${said} interval from ${text(low)} to ${text(high)}. A straight profile would make it even on both sides.`,
    table: {
      columns: [heading(name, shown.unit), "root of what the fit loses [sd]"],
      rows: places.map(({ value, root }) => [value, root]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          Plot.rectX(
            [
              {
                from: Math.max(low ?? x.domain[0], x.domain[0]),
                to: Math.min(high ?? x.domain[1], x.domain[1]),
              },
            ],
            { x1: "from", x2: "to", fill: palette.hair, className: "part-interval" },
          ),
          ...on.under,
          Plot.ruleY([-limit, limit], {
            stroke: palette.ink,
            strokeDasharray: "6 4",
            className: "part-limits",
          }),
          Plot.line(drawn, {
            x: "value",
            y: "root",
            stroke: palette.accent,
            strokeWidth: 2.2,
            className: "part-profile",
          }),
          Plot.dot([{ value: estimate, root: 0 }], {
            x: "value",
            y: "root",
            r: 4.4,
            fill: palette.accent,
            className: "part-estimate",
          }),
          outline(),
        ],
      },
    ],
    letters: on.letters,
  });
}
