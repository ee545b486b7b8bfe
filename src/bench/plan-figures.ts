import { layoutFigure, orderStripFigure, type Figure, type OrderStripOptions } from "../figure/index.ts";
import { renderEntry } from "../notebook/index.ts";
import { minutesInCut, planCost } from "../layout/index.ts";
import type { Run, TrialSpec } from "../trial/index.ts";
import { isRefusal } from "./error.ts";

/** A figure as the HTML of a published page. `place` tells apart the figures of one page. */
export function figureHtml(figure: Figure, caption: string, place: number): string {
  return renderEntry({ kind: "figure", figure, caption }, { index: place });
}

/** The figures that can be drawn; one that the library refuses is left out, as the page says the reason elsewhere. */
export function drawn(
  figures: readonly (readonly [make: () => Figure, caption: string])[],
): readonly string[] {
  return figures.flatMap(([make, caption], place) => {
    try {
      return [figureHtml(make(), caption, place)];
    } catch (error) {
      if (isRefusal(error)) return [];
      throw error;
    }
  });
}

/** Minutes in cut and edges, run by run, as far as the trial states enough. */
function wearOf(spec: TrialSpec, runs: readonly Run[]): Pick<OrderStripOptions, "minutes" | "edges"> {
  const found = minutesInCut(spec, runs);
  const edges = planCost(spec, runs).rows.map(({ edgesSoFar }) => edgesSoFar);
  return {
    ...(found.kind === "known" ? { minutes: found.minutes } : {}),
    ...(new Set(edges).size > 1 ? { edges } : {}),
  };
}

/** Where the runs stand among the factors, and each factor's way through the cutting order. */
export function planFigures(spec: TrialSpec, runs: readonly Run[]): readonly string[] {
  const input = { runs, factors: spec.factors };
  const options = { display: spec.display };
  return drawn([
    [() => layoutFigure(input, options), "The runs among the factors, numbered in cutting order."],
    [
      () => orderStripFigure(input, { ...options, ...wearOf(spec, runs) }),
      "Each factor from run to run: wear and warm-up must not climb with it.",
    ],
  ]);
}
