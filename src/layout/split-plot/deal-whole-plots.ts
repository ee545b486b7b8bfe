import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { settingsKey } from "../levels.ts";
import type { StandardLayout, StandardRun } from "../layout.ts";

export interface WholePlotRequest {
  /** Whole plots in all, centre runs of hard factors not counted; left out, one a replicate and setting of the hard factors. */
  readonly wholePlots?: number | undefined;
  /** Halvings of a whole plot that can be had; 0 where its runs can't be cut into equal parts. */
  readonly halvings: number;
  /** When every whole plot is halved `count` times: the part, from 0 to 2^count − 1, of a run. */
  readonly partsOf: (count: number) => (run: StandardRun) => number;
}

/**
 * Deals the runs of a layout to whole plots, each at one setting of the hard factors and within one block. By default each
 * replicate of each hard setting is a whole plot; fewer whole plots hold several replicates, more hold a half, a quarter …
 * each. Runs are renumbered whole plot by whole plot. A layout without hard factors is returned as it came.
 */
export function dealtToWholePlots(
  kind: string,
  factors: readonly Factor[],
  standard: StandardLayout,
  request: WholePlotRequest,
): StandardLayout {
  const hard = factors.filter(({ change }) => change === "hard");
  if (hard.length === 0) {
    if (request.wholePlots === undefined) return standard;
    throw new LayoutError(
      `layout.wholePlots: no factor of "${kind}" is hard to change, so runs share no set-up. Mark one with "change": "hard", or leave wholePlots out.`,
    );
  }
  const runs = standard.runs.filter(({ role }) => role !== "centre");
  const cells = cellsOf(factors, hard, runs);
  const share = shareOf(kind, hard, runs.length, cells, request);
  const partOf = request.partsOf(share.halvings);
  const plots = cells.flatMap((cell) => plotsOfCell(cell, share, partOf));
  const centred = withCentreRuns(
    hard,
    plots,
    standard.runs.filter(({ role }) => role === "centre"),
  );
  return {
    ...standard,
    runs: centred
      .flatMap((plot, index) => plot.map((run) => ({ ...run, wholePlot: index + 1 })))
      .map((run, index) => ({ ...run, standard: index + 1 })),
    notes: [...notesOf(factors, hard, centred, plots.length), ...standard.notes],
  };
}

type Plot = readonly StandardRun[];

/** The replicates of the runs at one hard setting in one block. */
type Cell = readonly Plot[];

function cellsOf(
  factors: readonly Factor[],
  hard: readonly Factor[],
  runs: readonly StandardRun[],
): readonly Cell[] {
  const seen = new Map<string, number>();
  const cells = new Map<string, StandardRun[][]>();
  for (const run of runs) {
    const whole = `${run.block} ${settingsKey(factors, run.settings)}`;
    const replicate = seen.get(whole) ?? 0;
    seen.set(whole, replicate + 1);
    const key = `${run.block} ${settingsKey(hard, run.settings)}`;
    const cell = cells.get(key) ?? [];
    cell[replicate] = [...(cell[replicate] ?? []), run];
    cells.set(key, cell);
  }
  return [...cells.values()].sort((one, other) => (one[0]?.[0]?.block ?? 0) - (other[0]?.[0]?.block ?? 0));
}

/** Replicates in one whole plot, or halvings of a replicate. */
interface Share {
  readonly together: number;
  readonly halvings: number;
}

function shareOf(
  kind: string,
  hard: readonly Factor[],
  runs: number,
  cells: readonly Cell[],
  { wholePlots, halvings }: WholePlotRequest,
): Share {
  const base = cells.reduce((sum, cell) => sum + cell.length, 0);
  const replicates = cells[0]?.length ?? 1;
  const even = cells.every((cell) => cell.length === replicates);
  const choices = new Map<number, Share>([[base, { together: 1, halvings: 0 }]]);
  for (let together = 2; even && together <= replicates; together += 1)
    if (replicates % together === 0) choices.set(base / together, { together, halvings: 0 });
  for (let count = 1; count <= halvings; count += 1)
    choices.set(base * 2 ** count, { together: 1, halvings: count });
  const found = choices.get(wholePlots ?? base);
  if (found) return found;
  const works = [...choices.keys()].sort((one, other) => one - other);
  throw new LayoutError(
    `layout.wholePlots: the ${runs} runs of this "${kind}", at ${cells.length} setting${cells.length === 1 ? "" : "s"} of ${listed(hard.map(({ name }) => name))}, can't be cut in ${wholePlots} set-ups. ${works.length === 1 ? `${works[0]} can be had` : `Take ${listed(works.map(String), "or")}`}; more replicates allow more.`,
  );
}

function plotsOfCell(cell: Cell, { together, halvings }: Share, partOf: (run: StandardRun) => number): Cell {
  if (together > 1) {
    return Array.from({ length: cell.length / together }, (_, plot) =>
      cell.slice(plot * together, (plot + 1) * together).flat(),
    );
  }
  if (halvings === 0) return cell;
  return cell.flatMap((replicate) =>
    Array.from({ length: 2 ** halvings }, (_, part) => replicate.filter((run) => partOf(run) === part)),
  );
}

/** Centre runs join whole plots of their hard setting in turn; where none has it, they make whole plots of the common size. */
function withCentreRuns(hard: readonly Factor[], plots: Cell, centre: readonly StandardRun[]): Cell {
  const keyOf = (run: StandardRun | undefined) =>
    run ? `${run.block} ${settingsKey(hard, run.settings)}` : "";
  const joined = plots.map((plot) => [...plot]);
  const own: StandardRun[][] = [];
  const used = new Map<string, number>();
  const size = Math.max(1, ...plots.map((plot) => plot.length));
  for (const run of centre) {
    const key = keyOf(run);
    const fitting = joined.filter((plot) => keyOf(plot[0]) === key);
    const turn = used.get(key) ?? 0;
    used.set(key, turn + 1);
    if (fitting.length > 0) fitting[turn % fitting.length]?.push(run);
    else {
      const last = own.filter((plot) => keyOf(plot[0]) === key).pop();
      if (last && last.length < size) last.push(run);
      else own.push([run]);
    }
  }
  return [...joined, ...own];
}

function notesOf(
  factors: readonly Factor[],
  hard: readonly Factor[],
  plots: Cell,
  without: number,
): readonly string[] {
  const sizes = [...new Set(plots.map((plot) => plot.length))].sort((one, other) => one - other);
  const names = listed(hard.map(({ name }) => name));
  const centre = plots.length - without;
  const notes = [
    `${plots.length} set-ups (whole plots) of ${listed(sizes.map(String), "or")} run${sizes.length === 1 && sizes[0] === 1 ? "" : "s"}, each at one setting of ${names}${centre > 0 ? `; ${centre} of them for centre runs` : ""}.`,
  ];
  if (hard.length === factors.length)
    notes.push(
      "Every factor is hard to change, so nothing is gained by sharing a set-up: leave one easy, or plan one set-up a run.",
    );
  return notes;
}
