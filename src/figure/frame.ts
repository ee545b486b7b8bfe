import * as Plot from "@observablehq/plot";
import { rulerFor, type Axis, type Ruler } from "./axis.ts";
import { acrossLetters, upLetters } from "./axis-letters.ts";
import { acrossMarks, upMarks, upTexts } from "./axis-marks.ts";
import type { Frame } from "./frame-box.ts";
import type { Letters } from "./letters.ts";
import { lettering, palette } from "./palette.ts";
import { textWidth } from "./text-width.ts";

/** Two axes around a frame: rulers to place things, marks to draw below the data, and the lettering outside. */
export interface Framed {
  readonly frame: Frame;
  readonly x: Ruler;
  readonly y: Ruler;
  readonly under: readonly Plot.Markish[];
  readonly letters: readonly Letters[];
  readonly options: Plot.PlotOptions;
}

const sheetWidth = 640;

/** How much room an upright axis needs for its tick texts on one side. */
function tickRoom(texts: readonly string[]): number {
  return Math.max(0, ...texts.map((text) => textWidth(text, lettering.small))) + 22;
}

/** How much of the sheet a frame takes, and whether its upright axis is lettered. */
export interface FrameSize {
  readonly height: number;
  /** Room for labels at the ends of lines. */
  readonly extraRight?: number;
  /** Default: as much as the upright axis needs. */
  readonly left?: number;
  readonly top?: number;
  readonly bottom?: number;
  readonly upright?: "lettered" | "bare";
}

/** A frame with room for what these axes letter around it. */
export function framed(x: Axis, y: Axis, size: FrameSize): Framed {
  const { height, extraRight = 0, upright = "lettered" } = size;
  const rightRoom = y.second === null ? 24 : tickRoom(y.second.texts) + 6;
  const left = size.left ?? Math.max(48, tickRoom(upTexts(y)) + 6);
  const frame: Frame = {
    width: sheetWidth,
    height,
    left,
    right: sheetWidth - Math.max(rightRoom, 24) - extraRight,
    top: size.top ?? (x.second === null ? 36 : 58),
    bottom: height - (size.bottom ?? 50),
  };
  return framedIn(x, y, frame, { upright });
}

/** Axes around a frame that stands where it is told, as one of several on a sheet. */
export function framedIn(
  x: Axis,
  y: Axis,
  frame: Frame,
  options: { readonly across?: "lettered" | "bare"; readonly upright?: "lettered" | "bare" } = {},
): Framed {
  const { across = "lettered", upright = "lettered" } = options;
  const rulers = { x: rulerFor(x, frame.left, frame.right), y: rulerFor(y, frame.bottom, frame.top) };
  return {
    frame,
    ...rulers,
    under: [
      ...(across === "bare" ? [] : acrossMarks(x, rulers.x, frame)),
      ...(upright === "bare" ? [] : upMarks(y)),
      outline(),
    ],
    letters: [
      ...(across === "bare" ? [] : acrossLetters(x, rulers.x, frame)),
      ...(upright === "bare" ? [] : upLetters(y, frame)),
    ],
    options: plotOptions(x, y, frame),
  };
}

/** The frame's own line, drawn over grid and bands. */
export function outline(): Plot.Markish {
  return Plot.frame({ stroke: palette.rule, strokeWidth: 1, className: "part-frame" });
}

function plotOptions(x: Axis, y: Axis, frame: Frame): Plot.PlotOptions {
  return {
    width: frame.width,
    height: frame.height,
    marginLeft: frame.left,
    marginRight: frame.width - frame.right,
    marginTop: frame.top,
    marginBottom: frame.height - frame.bottom,
    x: { type: x.type, domain: [...x.domain], axis: null },
    y: { type: y.type, domain: [...y.domain], axis: null },
    // Radii are given in the drawing's units.
    r: { type: "identity" },
  };
}
