import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { differenceIn } from "./pair-rows.ts";
import { heading, shownIn } from "./shown.ts";
import { sheet } from "./sheet.ts";
import { textWidth } from "./text-width.ts";
import { isInterval, type ScatterCell, type ScatterFit } from "../model/index.ts";

/**
 * Where each setting lies and how much it scatters: the mean across, the standard deviation up on a scale of ratios, each with its interval. Use it to choose settings that keep a finish low and
 * steady: down is steadier. Settings that read the same every time have no place and are named. One row a setting in the table.
 * Example: `locationScatterFigure(scatterFromReplicates(trial))`.
 */
export function locationScatterFigure(found: ScatterFit, options: FigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const { response, cells, logScale, confidence } = found;
  const told = cells.flatMap((cell) => {
    const { mean, standardDeviation: deviation } = cell;
    return isInterval(mean) && isInterval(deviation) ? [{ cell, mean, deviation }] : [];
  });
  if (told.length === 0) {
    throw figureError({
      given: `${cells.length} settings that read the same every time`,
      expected: "scatter at one setting at least",
      mend: "Read with more digits.",
    });
  }
  const shown = shownIn(response.unit, display);
  const size = logScale ? (value: number): number => value : differenceIn(response.unit, display);
  const points = told.map(({ cell, mean, deviation }) => ({
    name: cellName(cell),
    x: shown.value(mean.estimate),
    x1: shown.value(mean.low),
    x2: shown.value(mean.high),
    y: size(deviation.estimate),
    y1: size(deviation.low),
    y2: size(deviation.high),
  }));
  const x = quantityAxis({
    name: `mean ${response.name}`,
    unit: shown.unit,
    values: points.flatMap((point) => [point.x1, point.x2]),
    log: logScale ? "log" : "linear",
    margin: 0.08,
  });
  const y = quantityAxis({
    name: logScale ? `standard deviation of ln ${response.name}` : `standard deviation of ${response.name}`,
    unit: logScale ? "" : shown.unit,
    values: points.flatMap((point) => [point.y1, point.y2]),
    log: "log",
    count: 5,
    margin: 0.08,
  });
  const height = 400;
  const on = framed(x, y, { height });
  const named = namesApart(points, on);
  const title = options.title ?? `${response.name}: where it lies and how steady it is`;
  const silent = cells.length - told.length;
  const said = confidenceText(confidence);
  return sheet(document, {
    kind: "location-scatter",
    title,
    note: `${said} intervals; lower is steadier${silent > 0 ? `; ${silent} without scatter` : ""}`,
    description: `${title}. ${found.scatter.map(({ sentence }) => sentence).join(" ")}`,
    table: {
      columns: [
        "setting",
        found.of === "runs" ? "runs" : "readings",
        heading(`mean ${response.name}`, shown.unit),
        heading(`${said} low`, shown.unit),
        heading(`${said} high`, shown.unit),
        heading("standard deviation", logScale ? "" : shown.unit),
        `${said} low`,
        `${said} high`,
      ],
      rows: cells.map((cell) => {
        const { mean, standardDeviation: deviation } = cell;
        const both = (value: typeof mean, to: (number: number) => number): readonly (number | null)[] => [
          value.estimate === null ? null : to(value.estimate),
          isInterval(value) ? to(value.low) : null,
          isInterval(value) ? to(value.high) : null,
        ];
        return [cellName(cell), cell.readings, ...both(mean, shown.value), ...both(deviation, size)];
      }),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          Plot.link(points, {
            x1: "x1",
            x2: "x2",
            y1: "y",
            y2: "y",
            stroke: palette.quiet,
            className: "part-means",
          }),
          Plot.link(points, {
            x1: "x",
            x2: "x",
            y1: "y1",
            y2: "y2",
            stroke: palette.quiet,
            className: "part-scatters",
          }),
          Plot.dot(points, {
            x: "x",
            y: "y",
            r: 5,
            fill: palette.accent,
            stroke: palette.paper,
            strokeWidth: 1.5,
            className: "part-settings",
          }),
          ...(["start", "end"] as const).map((side) =>
            Plot.text(
              named.filter((point) => point.side === side),
              {
                x: "x",
                y: "y",
                text: "name",
                textAnchor: side,
                dx: side === "start" ? 8 : -8,
                dy: -9,
                fontSize: lettering.small,
                fill: palette.ink,
                stroke: palette.paper,
                strokeWidth: 3.5,
                className: "part-names",
              },
            ),
          ),
          outline(),
        ],
      },
    ],
    letters: on.letters,
  });
}

interface NamedPoint {
  readonly name: string;
  readonly x: number;
  readonly y: number;
}

/** Points whose names find room beside them, from the steadiest up; the table has them all. */
function namesApart<Point extends NamedPoint>(
  points: readonly Point[],
  on: Framed,
): readonly (Point & { readonly side: "start" | "end" })[] {
  // The dots have the first claim: no name is written over one.
  const taken = points.map(({ x, y }) => ({
    left: on.x.at(x) - 6,
    right: on.x.at(x) + 6,
    base: on.y.at(y) + 4,
  }));
  return [...points]
    .sort((a, b) => a.y - b.y)
    .flatMap((point) => {
      const width = textWidth(point.name, lettering.small);
      const [x, base] = [on.x.at(point.x), on.y.at(point.y) - 9];
      for (const side of ["start", "end"] as const) {
        const left = side === "start" ? x + 8 : x - 8 - width;
        const box = { left, right: left + width, base };
        const free =
          left > on.frame.left + 2 &&
          box.right < on.frame.right - 2 &&
          base > on.frame.top + 12 &&
          taken.every(
            (other) =>
              Math.abs(other.base - base) > 16 || other.left > box.right + 4 || other.right < left - 4,
          );
        if (!free) continue;
        taken.push(box);
        return [{ ...point, side }];
      }
      return [];
    });
}

function cellName({ settings, runs }: ScatterCell): string {
  const names = Object.entries(settings).map(([name, setting]) => `${name} ${setting}`);
  return names.length === 0 ? `run ${runs[0]}` : names.join(", ");
}
