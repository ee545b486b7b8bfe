import type * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import type { Figure } from "./figure.ts";
import type { Frame } from "./frame-box.ts";
import { framedIn, outline } from "./frame.ts";
import { axesFor, axisOf, type LayoutAxes, type LayoutDirections } from "./layout-axes.ts";
import { clusterMarks, roleKey } from "./layout-marks.ts";
import type { Letters } from "./letters.ts";
import { clusters, type Cluster } from "./run-clusters.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering } from "./palette.ts";
import {
  placeText,
  plannedRuns,
  roleNames,
  settingScale,
  type PlannedRuns,
  type SettingScale,
} from "./planned-runs.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";
import { shortened } from "./text-width.ts";
import type { Run } from "../trial/index.ts";

/** Factors along the frame, up it, and apart in panels beside and below each other. Default: quantities first, then categories. */
export interface LayoutOptions extends FigureOptions, LayoutDirections {}

/**
 * The runs where they stand in the space of the factors, each with its place in cutting order; replicates side by side. The first
 * two factors are the sides of the frame, a third and a fourth are told apart by panels; further ones are named as not drawn. Use it
 * to see what corner or middle is missing, and where replicates are. Where numbers would not fit, a mark tells how many runs stand
 * there. One row a run in the table. Refuses a plan without runs or factors and an unknown factor.
 * Example: `layoutFigure({ runs: layout.runs, factors })`, or `layoutFigure(trial)`.
 */
export function layoutFigure(input: PlannedRuns, options: LayoutOptions = {}): Figure {
  const { document, display } = settled(options);
  const { runs, factors } = plannedRuns(input);
  const axes = axesFor(runs, factors, options, (factor) => settingScale(factor, runs, display));
  const columns = axes.beside?.places ?? [null];
  const rows = axes.below?.places ?? [null];
  const left = axes.up === null ? 24 : 78;
  const high = axes.up === null ? 190 : rows.length === 1 ? 280 : Math.max(150, 380 / rows.length);
  const wide = (640 - left - 22 - (columns.length - 1) * 16) / columns.length;
  const header = axes.beside === null && axes.below === null ? 0 : 22;
  const height = 34 + rows.length * (high + header) + (rows.length - 1) * 8 + 50;
  const drawings: Plot.PlotOptions[] = [];
  const letters: Letters[] = [];
  const written = new Set<Cluster["written"]>();
  rows.forEach((below, row) =>
    columns.forEach((beside, column) => {
      const x = left + column * (wide + 16);
      const top = 30 + header + row * (high + header + 8);
      const frame: Frame = { width: 640, height, left: x, right: x + wide, top, bottom: top + high };
      const here = runs.filter((run) => at(axes.beside, beside, run) && at(axes.below, below, run));
      const panel = drawPanel(here, runs, axes, frame, {
        last: row === rows.length - 1,
        first: column === 0,
      });
      drawings.push(panel.plot);
      for (const each of panel.written) written.add(each);
      letters.push(...panel.letters.filter((each) => row === 0 || each.y > top));
      const text = [panelText(axes.beside, beside), panelText(axes.below, below)]
        .filter((each) => each !== "")
        .join(", ");
      if (text !== "")
        letters.push({
          x: x + wide / 2,
          y: top - 8,
          text: shortened(text, wide, lettering.small),
          anchor: "middle",
          weight: "bold",
        });
    }),
  );
  const drawn = [axes.along, axes.up, axes.beside, axes.below].flatMap((scale) =>
    scale === null ? [] : [scale.factor.name],
  );
  const undrawnNames = factors.map((factor) => factor.name).filter((name) => !drawn.includes(name));
  const title =
    options.title ?? `${runs.length} ${runs.length === 1 ? "run" : "runs"} over ${drawn.join(", ")}`;
  const undrawn = undrawnNames.length === 0 ? "" : `Not drawn: ${undrawnNames.join(", ")}.`;
  return sheet(document, {
    kind: "runs-in-factor-space",
    title,
    note: [writtenText(written), undrawn].filter((each) => each !== "").join("; "),
    description: describe(runs, axes, { title, undrawn }),
    table: {
      columns: [
        "run",
        "block",
        "role",
        ...factors.map((factor) => heading(factor.name, factor.kind === "quantity" ? factor.unit : "")),
      ],
      rows: runs.map((run) => [
        run.run,
        run.block,
        roleNames[run.role],
        ...factors.map((factor) => run.settings[factor.name] ?? null),
      ]),
    },
    height,
    drawings,
    letters,
    key: roleKey(runs),
  });
}

/** What stands in the marks of the runs. */
function writtenText(written: ReadonlySet<Cluster["written"]>): string {
  return [
    written.has("numbers") ? "numbers: place in cutting order" : "",
    written.has("count") ? "×2: two runs stand there" : "",
    written.has("nothing") ? "settings too close for numbers" : "",
  ]
    .filter((each) => each !== "")
    .join("; ");
}

function at(scale: SettingScale | null, place: number | null, run: Run): boolean {
  return scale === null || place === null || scale.placeOf(run) === place;
}

function panelText(scale: SettingScale | null, place: number | null): string {
  return scale === null || place === null ? "" : `${scale.factor.name} ${placeText(scale, place)}`;
}

function drawPanel(
  here: readonly Run[],
  all: readonly Run[],
  axes: LayoutAxes,
  frame: Frame,
  edge: { readonly last: boolean; readonly first: boolean },
): {
  readonly plot: Plot.PlotOptions;
  readonly letters: readonly Letters[];
  readonly written: readonly Cluster["written"][];
} {
  const up =
    axes.up === null
      ? quantityAxis({ name: "", unit: "", values: [0, 1] })
      : axisOf(axes.up, frame.bottom - frame.top);
  const on = framedIn(axisOf(axes.along, frame.right - frame.left), up, frame, {
    across: edge.last ? "lettered" : "bare",
    upright: edge.first && axes.up !== null ? "lettered" : "bare",
  });
  const placed = (run: Run): { x: number; y: number } => ({
    x: on.x.at(axes.along.placeOf(run)),
    y: axes.up === null ? (frame.top + frame.bottom) / 2 : on.y.at(axes.up.placeOf(run)),
  });
  const groups = clusters(here, placed, { room: frame, spacingOf: all.map(placed) });
  return {
    plot: {
      ...on.options,
      marks: [...on.under, ...groups.flatMap((group) => clusterMarks(group, on)), outline()],
    },
    letters: on.letters,
    written: groups.map((group) => group.written),
  };
}

function describe(
  runs: readonly Run[],
  axes: LayoutAxes,
  parts: { readonly title: string; readonly undrawn: string },
): string {
  const scales = [axes.along, axes.up, axes.beside, axes.below].filter((scale) => scale !== null);
  const settings = scales.map((scale) => {
    const texts =
      scale.places.length <= 8
        ? scale.places.map((place) => placeText(scale, place)).join(", ")
        : `${scale.places.length} settings`;
    return `${scale.factor.name}: ${texts}`;
  });
  const points = new Set(runs.map((run) => scales.map((scale) => scale.placeOf(run)).join("|"))).size;
  const more = runs.length - points;
  const again =
    more === 0
      ? "no run is a replicate"
      : `${more} more ${more === 1 ? "run stands" : "runs stand"} where one stands already${parts.undrawn === "" ? ", as replicates" : ""}`;
  return [
    `${parts.title}. ${settings.join("; ")}.`,
    `${points} different ${points === 1 ? "setting" : "settings"}; ${again}.`,
    parts.undrawn,
  ]
    .filter((each) => each !== "")
    .join(" ");
}
