import * as Plot from "@observablehq/plot";
import { categoryAxis, quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { countText, rowsToDraw } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { runNames } from "./run-names.ts";
import { sheet } from "./sheet.ts";
import { shortened } from "./text-width.ts";
import { effectsWithoutRun, mostInfluential, type Fit } from "../model/index.ts";

/** What leaving one run out does to one effect. */
interface Move {
  readonly run: number;
  readonly label: string;
  readonly all: number;
  readonly without: number;
  /** In half-widths of the effect's interval, upward or downward. */
  readonly moved: number;
}

const rowHeight = 46;
const mostRuns = 500;

/**
 * How far each effect moves when one run is left out, in half-widths of its interval: one row an effect, one mark a run, the farthest named. Use it to see whether one run
 * decides. A move of a whole half-width (broken lines) is a large one; whether the most influential run stands out from what clean runs do is judged by draws
 * (`mostInfluential`) and said in the text.
 *
 * One row a run and effect in the table, with the effect as all runs have it and without the run. Refuses fits without effects or scatter, with random sources, more than 500
 * runs. Example: `influenceFigure(fit)`.
 */
export function influenceFigure(fit: Fit, options: FigureOptions = {}): Figure {
  const { document } = settled(options);
  const runs = [...new Set(rowsToDraw(fit).map(({ run }) => run))];
  if (runs.length > mostRuns)
    throw figureError({
      given: `${runs.length} runs`,
      expected: `at most ${mostRuns}, each left out in turn`,
      mend: "With so many, no single run decides.",
    });
  const untold: number[] = [];
  const moves = runs.flatMap((run): readonly Move[] => {
    const effects = effectsWithoutRun(fit, run);
    if (effects === null) untold.push(run);
    return (effects ?? []).flatMap(({ label, all, without, moved }) =>
      moved === null ? [] : [{ run, label, all, without, moved: moved * Math.sign(without - all) }],
    );
  });
  const labels = [...new Set(moves.map(({ label }) => label))];
  if (labels.length === 0)
    throw figureError({
      given: `a fit of ${fit.response.name} without effects that have an interval${fit.noInterval === "" ? "" : ` (${fit.noInterval})`}`,
      expected: "at least one effect with its interval",
      mend: "Cut replicates, or take terms out of the model.",
    });
  const names = shortNames(fit, labels);
  // The first effect on top.
  const levels = [...labels].reverse();
  const reach = Math.max(1.1, ...moves.map(({ moved }) => Math.abs(moved)));
  const height = 96 + labels.length * rowHeight;
  const on = framed(
    quantityAxis({
      name: "how far the effect moves without the run",
      unit: "half-widths of its interval",
      values: [-reach, reach],
      margin: 0.08,
    }),
    categoryAxis(
      "",
      levels.map((label) => names.get(label) ?? shortened(label, 110, 12)),
    ),
    { height },
  );
  const farthest = labels.map((label) =>
    moves
      .filter((move) => move.label === label)
      .reduce((most, move) => (Math.abs(move.moved) > Math.abs(most.moved) ? move : most)),
  );
  const title = options.title ?? `${fit.response.name}: what each run does to the effects`;
  const most = mostInfluential(fit);
  return sheet(document, {
    kind: "influence",
    title,
    note: `${countText(fit)}; broken lines: a whole half-width`,
    description: [
      `${title}: ${countText(fit)}.`,
      ...farthest.map(
        ({ run, label, all, without, moved }) =>
          `Run ${run} moves the effect of ${label} most: ${roundedText(all)} with all runs, ${roundedText(without)} without it, ${roundedText(Math.abs(moved), 2)} half-widths.`,
      ),
      most === null
        ? ""
        : `The most influential run by Cook’s distance is run ${most.run}; the most influential of clean runs at these settings moves the fit as much in ${roundedText(100 * most.p, 2)} % of trials.`,
      untold.length === 0
        ? ""
        : `Without run ${untold.join(", or without run ")} the terms can’t be told apart.`,
    ]
      .filter((each) => each !== "")
      .join(" "),
    table: {
      columns: ["run", "effect", "with all runs", "without the run", "moved [half-widths]"],
      rows: moves.map(({ run, label, all, without, moved }) => [run, label, all, without, moved]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          Plot.ruleX([-1, 1], {
            stroke: palette.quiet,
            strokeDasharray: "5 4",
            className: "part-guides",
          }),
          Plot.ruleX([0], { stroke: palette.ink, strokeWidth: 1.2, className: "part-none" }),
          // A stroke a run: many lie near nothing, and dots would hide one another.
          Plot.link(
            moves.map(({ label, moved }) => {
              const place = on.y.at(levels.indexOf(label));
              return { x: moved, y1: on.y.back(place - 9), y2: on.y.back(place + 9) };
            }),
            {
              x1: "x",
              x2: "x",
              y1: "y1",
              y2: "y2",
              stroke: palette.accent,
              strokeWidth: 1.6,
              strokeOpacity: moves.length > 120 ? 0.5 : 0.85,
              className: "part-moves",
            },
          ),
          ...runNames(
            farthest.map(({ run, label, moved }) => ({
              run,
              x: on.x.at(moved),
              y: on.y.at(levels.indexOf(label)),
            })),
            on,
            {
              marks: moves.map(({ label, moved }) => ({
                x: on.x.at(moved),
                y: on.y.at(levels.indexOf(label)),
              })),
            },
          ).marks,
          outline(),
        ],
      },
    ],
    letters: on.letters,
  });
}

/** The factor's name, with the level where a category has several; none where the effects can't be matched with those of the fit. */
function shortNames(fit: Fit, labels: readonly string[]): ReadonlyMap<string, string> {
  if (fit.effects.length !== labels.length) return new Map();
  return new Map(
    fit.effects.map(({ factor, to }, k) => {
      const several = fit.effects.filter((one) => one.factor === factor).length > 1;
      return [labels[k], shortened(several ? `${factor} ${to}` : factor, 110, 12)];
    }),
  );
}
