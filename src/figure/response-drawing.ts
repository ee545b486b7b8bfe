import * as Plot from "@observablehq/plot";
import { categoryAxis, heldValues, quantityAxis, type Axis } from "./axis.ts";
import { settingsCut } from "./fit-curve.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { bandMarks, barMarks, curveMark, haloMark, shownCurve, type ShownPoint } from "./interval-marks.ts";
import type { KeyEntry } from "./key.ts";
import { boxesAlong, type Box } from "./label-room.ts";
import type { Letters } from "./letters.ts";
import { limitMarks } from "./limit-line.ts";
import { lineLabels, type NamedLine } from "./line-labels.ts";
import { decimalsOf } from "./number-text.ts";
import { palette } from "./palette.ts";
import { readingMarks, sideRoom, type DrawnRun } from "./reading-marks.ts";
import { responseKey } from "./response-key.ts";
import { drawnRuns } from "./response-runs.ts";
import { levelSlots } from "./level-slots.ts";
import type { ResponseScene } from "./response-scene.ts";
import { withUnit } from "./shown.ts";
import { formatNumber } from "../units/index.ts";

export interface Drawing {
  readonly plot: Plot.PlotOptions;
  readonly letters: readonly Letters[];
  readonly key: readonly KeyEntry[];
  readonly height: number;
  readonly thinning: string;
}

const height = 384;

export function drawResponse(scene: ResponseScene): Drawing {
  const { fit, along, groups, shown, single, limit } = scene;
  const category = along.kind === "category";
  const levels = category ? settingsCut(fit, along).map(String) : [];
  const curves = groups.map((group) => shownCurve(group.curve, { ...shown, levels }));
  const runs = groups.flatMap((group) => drawnRuns(scene, group, levels));
  const ideal = scene.ideal.map(({ x, y }) => ({ x: shown.x.value(x), y: shown.y.value(y) }));
  const shownLimit = limit === null ? null : shown.y.value(limit);
  const y = responseAxis(scene, curves, runs, [
    ...(shownLimit === null ? [] : [shownLimit]),
    ...ideal.map((point) => point.y),
  ]);
  const on = framed(category ? categoryAxis(along.name, levels) : factorAxis(scene, runs), y, { height });
  const slots = category
    ? levelSlots(groups, runs, (on.frame.right - on.frame.left) / Math.max(levels.length, 1))
    : null;
  const readings = readingMarks(runs, on, slots === null ? {} : { offsets: slots.runs });
  // A few readings lie on the curve, as they are what counts; a cloud of them would bury it.
  const dense = runs.reduce((sum, run) => sum + run.single.length, 0) > 300;
  const marks: Plot.Markish[] = [...on.under];
  curves.forEach((curve, index) => {
    if (!category) marks.push(...bandMarks(curve, groups[index].style, { domain: y.domain, single }));
  });
  if (ideal.length > 1) marks.push(idealMark(ideal));
  if (shownLimit !== null) marks.push(...limitMarks(shownLimit, on, scene.forbidden));
  const fits = curves.flatMap((curve, index) => {
    const { style } = groups[index];
    if (slots !== null) return barMarks(curve, style, on, { shift: slots.bars[index], single });
    return dense ? [haloMark(curve), curveMark(curve, style)] : [curveMark(curve, style)];
  });
  marks.push(
    ...(dense ? [...readings.marks, ...fits] : [...fits, ...readings.marks]),
    outline(),
    ...lineLabels(namedLines(scene, curves, ideal, on), on, [...readings.taken, ...bandEdges(curves, on)]),
  );
  return {
    plot: { ...on.options, marks },
    letters: on.letters,
    key: responseKey(scene, runs, readings.means),
    height,
    thinning: readings.thinning,
  };
}

/** The broken edges of the band for a single run, for names to keep clear of. */
function bandEdges(curves: readonly (readonly ShownPoint[])[], on: Framed): readonly Box[] {
  return curves.flatMap((curve) =>
    (["low", "high"] as const).flatMap((end) =>
      boxesAlong(
        curve.flatMap(({ x, single }) =>
          single === null ? [] : [{ x: on.x.at(x), y: on.y.at(single[end]) }],
        ),
        1,
      ),
    ),
  );
}

function factorAxis(scene: ResponseScene, runs: readonly DrawnRun[]): Axis {
  const { fit, along, shown } = scene;
  // Room at the ends for runs that stand side by side there.
  const beside = sideRoom(runs);
  const cut = settingsCut(fit, along).map((setting) => shown.x.value(Number(setting)));
  // The settings that were cut are the ticks as long as each can be told apart.
  const fixedTicks = cut.length <= 7 && cut.length > 1 && decimalsOf(cut) < 6 ? cut : [];
  const { second } = shown.x;
  return quantityAxis({
    name: along.name,
    unit: shown.x.unit,
    values: cut,
    log: scene.scales.x,
    fixedTicks,
    margin: Math.max(0.05, beside / (540 - 2 * beside)),
    second,
  });
}

/** Holds readings, mean bands, limit and ideal; a single run's band may reach a third further, and is cut off there. */
function responseAxis(
  scene: ResponseScene,
  curves: readonly (readonly ShownPoint[])[],
  runs: readonly DrawnRun[],
  also: readonly number[],
): Axis {
  const points = curves.flat();
  const firm = [...runs.flatMap((run) => run.single), ...points.map((point) => point.estimate), ...also];
  const bands = points.flatMap((point) =>
    [point.mean, scene.single === "shown" ? point.single : null].flatMap((band) =>
      band === null ? [] : [band.low, band.high],
    ),
  );
  const { second } = scene.shown.y;
  return quantityAxis({
    name: scene.fit.response.name,
    unit: scene.shown.y.unit,
    values: heldValues(firm, bands, scene.scales.y),
    log: scene.scales.y,
    second,
  });
}

function idealMark(points: readonly { readonly x: number; readonly y: number }[]): Plot.Markish {
  return Plot.line(points, {
    x: "x",
    y: "y",
    stroke: palette.quiet,
    strokeWidth: 2,
    strokeDasharray: "0.1 5",
    strokeLinecap: "round",
    className: "part-ideal",
  });
}

function namedLines(
  scene: ResponseScene,
  curves: readonly (readonly ShownPoint[])[],
  ideal: readonly { readonly x: number; readonly y: number }[],
  on: Framed,
): readonly NamedLine[] {
  const lines: NamedLine[] = [];
  const { frame } = on;
  if (scene.limit !== null) {
    const shown = scene.shown.y.value(scene.limit);
    const y = on.y.at(shown);
    const text = `${scene.forbidden === "neither" ? "target" : "limit"} ${withUnit(formatNumber(shown), scene.shown.y.unit)}`;
    const points = [0, 0.25, 0.5, 0.75, 1].map((share) => ({
      x: frame.left + share * (frame.right - frame.left),
      y,
    }));
    lines.push({
      text,
      colour: palette.caution,
      points,
      likes: "start",
      side: scene.forbidden === "above" ? "below" : "above",
    });
  }
  scene.groups.forEach((group, index) => {
    const points = curves[index].map((point) => ({
      x: on.x.at(point.x),
      y: on.y.at(point.estimate),
    }));
    if (scene.along.kind === "category") return;
    lines.push({ text: group.label, colour: group.style.colour, points });
  });
  if (ideal.length > 1) {
    const points = ideal.map(({ x, y }) => ({ x: on.x.at(x), y: on.y.at(y) }));
    lines.push({ text: scene.idealLabel, colour: palette.quiet, points });
  }
  return lines;
}
