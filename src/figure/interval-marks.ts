import * as Plot from "@observablehq/plot";
import type { CurvePoint } from "./fit-curve.ts";
import type { Framed } from "./frame.ts";
import { palette, type GroupStyle } from "./palette.ts";
import type { Shown } from "./shown.ts";

/** A point of a curve in shown units, its intervals held inside the frame. */
export interface ShownPoint {
  readonly x: number;
  readonly estimate: number;
  readonly mean: { readonly low: number; readonly high: number } | null;
  readonly single: { readonly low: number; readonly high: number } | null;
}

/** A curve in shown units; `x` of a category's level is its place. */
export function shownCurve(
  curve: readonly CurvePoint[],
  shown: { readonly x: Shown; readonly y: Shown; readonly levels: readonly string[] },
): readonly ShownPoint[] {
  const { x, y, levels } = shown;
  const both = (interval: { readonly low: number; readonly high: number } | null): ShownPoint["mean"] =>
    interval === null ? null : { low: y.value(interval.low), high: y.value(interval.high) };
  return curve.map(({ setting, prediction }) => ({
    x: typeof setting === "number" ? x.value(setting) : levels.indexOf(setting),
    estimate: y.value(prediction.estimate),
    mean: both(prediction.mean),
    single: both(prediction.single),
  }));
}

/** The band for the mean, and lighter with a broken edge the band for a single run; cut off at the frame. */
export function bandMarks(
  points: readonly ShownPoint[],
  style: GroupStyle,
  options: { readonly domain: readonly [number, number]; readonly single: "shown" | "hidden" },
): readonly Plot.Markish[] {
  const { domain, single } = options;
  const held = (value: number): number => Math.min(Math.max(value, domain[0]), domain[1]);
  const band = (
    pick: (point: ShownPoint) => ShownPoint["mean"],
  ): { x: number; low: number; high: number }[] =>
    points.flatMap((point) => {
      const interval = pick(point);
      return interval === null ? [] : [{ x: point.x, low: held(interval.low), high: held(interval.high) }];
    });
  const marks: Plot.Markish[] = [];
  const wide = single === "shown" ? band((point) => point.single) : [];
  if (wide.length > 1) {
    const edge = {
      x: "x",
      stroke: style.colour,
      strokeOpacity: 0.55,
      strokeWidth: 0.9,
      strokeDasharray: "3 3",
    } as const;
    marks.push(
      Plot.areaY(wide, {
        x: "x",
        y1: "low",
        y2: "high",
        fill: style.colour,
        fillOpacity: 0.06,
        className: "part-band-single",
      }),
      Plot.line(wide, { ...edge, y: "low", className: "part-band-single-edge" }),
      Plot.line(wide, { ...edge, y: "high", className: "part-band-single-edge" }),
    );
  }
  const narrow = band((point) => point.mean);
  if (narrow.length > 1) {
    marks.push(
      Plot.areaY(narrow, {
        x: "x",
        y1: "low",
        y2: "high",
        fill: style.colour,
        fillOpacity: 0.17,
        className: "part-band-mean",
      }),
    );
  }
  return marks;
}

export function curveMark(points: readonly ShownPoint[], style: GroupStyle): Plot.Markish {
  return Plot.line(points, {
    x: "x",
    y: "estimate",
    stroke: style.colour,
    strokeWidth: 2.2,
    strokeDasharray: style.dash,
    className: "part-curve",
  });
}

/** A paper-coloured edge under a curve that runs over a cloud of readings. */
export function haloMark(points: readonly ShownPoint[]): Plot.Markish {
  return Plot.line(points, {
    x: "x",
    y: "estimate",
    stroke: palette.paper,
    strokeWidth: 5.5,
    className: "part-halo",
  });
}

/** For a category: at each level a thick bar for the mean, a thin broken one for a single run, and a stroke for the estimate. */
export function barMarks(
  points: readonly ShownPoint[],
  style: GroupStyle,
  on: Framed,
  options: { readonly shift: number; readonly single: "shown" | "hidden" },
): readonly Plot.Markish[] {
  const moved = points.map((point) => ({ ...point, x: on.x.back(on.x.at(point.x) + options.shift) }));
  const bars = (
    pick: (point: ShownPoint) => ShownPoint["mean"],
  ): { x: number; low: number; high: number }[] =>
    moved.flatMap((point) => {
      const interval = pick(point);
      return interval === null ? [] : [{ x: point.x, low: interval.low, high: interval.high }];
    });
  const marks: Plot.Markish[] = [];
  if (options.single === "shown") {
    const thin = {
      x: "x",
      y1: "low",
      y2: "high",
      stroke: style.colour,
      strokeWidth: 1,
      strokeDasharray: "3 3",
    };
    marks.push(
      Plot.ruleX(
        bars((point) => point.single),
        { ...thin, className: "part-band-single" },
      ),
    );
  }
  marks.push(
    Plot.ruleX(
      bars((point) => point.mean),
      {
        x: "x",
        y1: "low",
        y2: "high",
        stroke: style.colour,
        strokeOpacity: 0.4,
        strokeWidth: 9,
        className: "part-band-mean",
      },
    ),
    // A stroke across the bar, so that it is not taken for a run.
    Plot.link(
      moved.map((point) => {
        const middle = on.x.at(point.x);
        return { x1: on.x.back(middle - 10), x2: on.x.back(middle + 10), y: point.estimate };
      }),
      {
        x1: "x1",
        x2: "x2",
        y1: "y",
        y2: "y",
        stroke: style.colour,
        strokeWidth: 2.6,
        className: "part-estimates",
      },
    ),
  );
  return marks;
}
