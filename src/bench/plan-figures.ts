import {
  knownSliceFigure,
  layoutFigure,
  movesWithFigure,
  orderStripFigure,
  type Figure,
  type KnownSliceOptions,
  type OrderStripOptions,
} from "../figure/index.ts";
import { renderEntry } from "../notebook/index.ts";
import { minutesInCut, planCost, termCorrelations } from "../layout/index.ts";
import type { Run, TrialSpec } from "../trial/index.ts";
import { named } from "./effect-list.ts";
import { isRefusal } from "./error.ts";

/** A figure as the HTML of a published page. `place` tells apart the figures of one page. */
export function figureHtml(figure: Figure, caption: string, place: number): string {
  return renderEntry({ kind: "figure", figure, caption }, { index: place });
}

/**
 * The figures that can be drawn; one that the library refuses is left out, as the page says the reason elsewhere. `from`: the place of the first on its page, where
 * several lists stand on one.
 */
export function drawn(
  figures: readonly (readonly [make: () => Figure, caption: string])[],
  { from = 0 }: { readonly from?: number } = {},
): readonly string[] {
  return figures.flatMap(([make, caption], place) => {
    try {
      return [figureHtml(make(), caption, from + place)];
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

/** What a plan is asked: the model that will be fitted, and how wide its intervals would be. */
export type PlanAsked = Pick<KnownSliceOptions, "sigma" | "confidence" | "unit" | "varianceRatio"> & {
  readonly model: "main" | "interactions" | "surface";
};

/** What could be mistaken for what; with a model of main effects the products of two factors that it leaves out as well. */
export function movesWith(
  { factors }: TrialSpec,
  runs: readonly Run[],
  { model }: Pick<PlanAsked, "model">,
): Figure {
  const pairs = named("interactions", factors).filter((term) => Object.keys(term).length === 2);
  return movesWithFigure(termCorrelations(runs, factors, { model, omitted: model === "main" ? pairs : [] }));
}

/** Where the runs stand among the factors, each factor's way through the cutting order, what moves with what, and how well the mean is known. */
export function planFigures(spec: TrialSpec, runs: readonly Run[], asked: PlanAsked): readonly string[] {
  const input = { runs, factors: spec.factors };
  const options = { display: spec.display };
  return drawn([
    [() => layoutFigure(input, options), "The runs among the factors, numbered in cutting order."],
    [
      () => orderStripFigure(input, { ...options, ...wearOf(spec, runs) }),
      "Each factor from run to run: wear and warm-up must not climb with it.",
    ],
    [
      () => movesWith(spec, runs, asked),
      "What moves with what: the fuller a cell, the harder its two effects are to tell apart.",
    ],
    [
      () => knownSliceFigure(input, { ...options, ...asked }),
      "How well the mean would be known over two of the factors.",
    ],
  ]);
}
