import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import type { Box } from "./label-room.ts";
import { palette, type GroupStyle } from "./palette.ts";
import { marksFor, mostMarks, thinningText, type Mark } from "./thin.ts";
import { extent } from "../numerics/index.ts";

/** A run to draw: its place along the axis, its mean and every reading behind it, in shown units. */
export interface DrawnRun {
  readonly x: number;
  readonly mean: number;
  readonly single: readonly number[];
  readonly style: GroupStyle;
  /** Runs cut elsewhere than where a curve stands are drawn in grey. */
  readonly strong: boolean;
}

export interface ReadingMarks {
  readonly marks: readonly Plot.Markish[];
  /** Where marks are, for labels to keep clear of. */
  readonly taken: readonly Box[];
  /** True where single readings and run means are drawn apart. */
  readonly means: boolean;
  /** How thinning is owned up to; empty where every reading has its mark. */
  readonly thinning: string;
}

/**
 * Every reading as a small open mark and each run's mean as a filled one (one open mark a run where no run has more than
 * one reading). A run's readings stand a little right of its mean and runs at one place side by side, so that none hides another;
 * `offsets` places them otherwise, one for each run, and `show: "means"` leaves the single readings out.
 */
export function readingMarks(
  runs: readonly DrawnRun[],
  on: Framed,
  options: { readonly offsets?: readonly number[]; readonly show?: "all" | "means" } = {},
): ReadingMarks {
  const { show = "all" } = options;
  const means = show === "means" || runs.some((run) => run.single.length > 1);
  const both = means && show === "all";
  const {
    offsets = sideBySide(
      runs.map((run) => on.x.at(run.x)),
      both ? pitch.both : pitch.one,
    ),
  } = options;
  const placed = runs.map((run, index) => ({ run, x: on.x.at(run.x) + offsets[index] }));
  const readings = show === "means" ? 0 : runs.reduce((sum, run) => sum + run.single.length, 0);
  const marks: Plot.Markish[] = [];
  const open: Mark[] = [];
  const filled: Mark[] = [];
  for (const { style, strong, members } of byLook(placed)) {
    const places = (show === "means" ? [] : members).flatMap(({ run, x }) =>
      run.single.map((value) => ({ x: x + (both ? 4 : 0), y: on.y.at(value) })),
    );
    const small = marksFor(places, { most: shareOf(places.length, readings) });
    const large = means
      ? marksFor(
          members.map(({ run, x }) => ({ x: x - (both ? 2.5 : 0), y: on.y.at(run.mean) })),
          { most: shareOf(members.length, runs.length) },
        )
      : [];
    open.push(...small);
    filled.push(...large);
    marks.push(
      openMarks(small, on, style, strong),
      ...(means ? [filledMarks(large, on, style, strong)] : []),
    );
  }
  const thinning = [
    thinningText(open, readings, "readings"),
    means ? thinningText(filled, runs.length, "run means") : "",
  ];
  return {
    marks,
    taken: [...open, ...filled].map((mark) => around(mark.x, mark.y, 4)),
    means,
    thinning: thinning.filter((each) => each !== "").join(" "),
  };
}

/** How many of the marks that a sheet has room for go to a part of what is drawn. */
function shareOf(part: number, whole: number): number {
  return whole <= mostMarks ? Infinity : Math.ceil((mostMarks * part) / whole);
}

function openMarks(marks: readonly Mark[], on: Framed, style: GroupStyle, strong: boolean): Plot.Markish {
  return Plot.dot(
    marks.map((mark) => ({
      x: on.x.back(mark.x),
      y: on.y.back(mark.y),
      r: 2.5 + 0.9 * Math.log2(mark.count),
    })),
    {
      x: "x",
      y: "y",
      r: "r",
      symbol: style.symbol,
      stroke: strong ? style.colour : palette.rule,
      strokeWidth: 1.1,
      fill: palette.paper,
      fillOpacity: 0.75,
      className: "part-readings",
    },
  );
}

function filledMarks(marks: readonly Mark[], on: Framed, style: GroupStyle, strong: boolean): Plot.Markish {
  return Plot.dot(
    marks.map(({ x, y, count }) => ({ x: on.x.back(x), y: on.y.back(y), r: 4.4 + 0.7 * Math.log2(count) })),
    {
      x: "x",
      y: "y",
      r: "r",
      symbol: style.symbol,
      fill: strong ? style.colour : palette.rule,
      stroke: palette.paper,
      strokeWidth: 1,
      className: "part-run-means",
    },
  );
}

interface PlacedRun {
  readonly run: DrawnRun;
  readonly x: number;
}

/** Runs of one look together, weak ones first so that they lie underneath. */
function byLook(placed: readonly PlacedRun[]): readonly {
  readonly style: GroupStyle;
  readonly strong: boolean;
  readonly members: readonly PlacedRun[];
}[] {
  const looks = new Map<string, { style: GroupStyle; strong: boolean; members: PlacedRun[] }>();
  for (const each of placed) {
    const key = `${each.run.strong ? 1 : 0}${each.run.style.symbol}`;
    const look = looks.get(key) ?? { style: each.run.style, strong: each.run.strong, members: [] };
    look.members.push(each);
    looks.set(key, look);
  }
  return [...looks.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, look]) => look);
}

/** How many runs share a place along the axis, at most. */
function mostAtOnePlace(runs: readonly DrawnRun[]): number {
  const counts = new Map<number, number>();
  for (const { x } of runs) counts.set(x, (counts.get(x) ?? 0) + 1);
  return extent([...counts.values()])[1];
}

/** How far apart runs stand at one place, in units of the drawing: as means with readings beside them, or as one mark each. */
const pitch = { both: 12, one: 9 } as const;

/** How far runs at one place may reach to either side of it. */
const reach = 80;

/** How much room to the side the runs of a place take at most. */
export function sideRoom(runs: readonly DrawnRun[]): number {
  const most = mostAtOnePlace(runs);
  return Math.min((most * pitch.both) / 2, reach) + 8;
}

/** For places that fall together, steps to either side: at most `most` units each, less where neighbours are near. */
export function sideBySide(places: readonly number[], most: number = pitch.one): readonly number[] {
  const groups = new Map<number, number[]>();
  places.forEach((place, index) => {
    const key = Math.round(place * 10) / 10;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [index]);
    else group.push(index);
  });
  const centres = [...groups.keys()].sort((a, b) => a - b);
  const nearest = extent(centres.slice(1).map((centre, index) => centre - centres[index]))[0];
  const room = Math.min(centres.length > 1 ? nearest * 0.7 : Infinity, 2 * reach);
  const offsets = places.map(() => 0);
  for (const members of groups.values()) {
    const step = Math.min(most, room / members.length);
    members.forEach((member, place) => (offsets[member] = (place - (members.length - 1) / 2) * step));
  }
  return offsets;
}

export function around(x: number, y: number, reach: number): Box {
  return { left: x - reach, right: x + reach, top: y - reach, bottom: y + reach };
}
