import { optimalSchema } from "./optimal/options.ts";
import { readOptions } from "./common-options.ts";
import { contextOf, inOrder, layOut, refuseSameNames, type LayoutRequest } from "./lay-out.ts";
import type { Layout, Predicate } from "./layout.ts";
import { layOutOptimal } from "./optimal/lay-out-optimal.ts";
import { optimalProblem } from "./optimal/problem.ts";
import { progressOf, type LayoutProgress } from "./optimal/progress.ts";
import { searchInWorkers } from "./optimal/search-in-workers.ts";

export interface ProgressOptions {
  /** Constraints as functions, for kinds that take them. */
  readonly allow?: readonly Predicate[];
  /** Told some twenty times a second while a search goes on, and at its end; not at all for a kind that is laid out at once. */
  readonly onProgress?: (progress: LayoutProgress) => void;
  /** Stops a search: the best layout so far is returned, and its first note says that it was stopped. */
  readonly signal?: AbortSignal;
  /** Threads that a long search may start; the layout is the same for any number. Default: as many as there are cores; 0: none. */
  readonly workers?: number;
}

/**
 * Lays out the runs of a trial as `layOut` does, and tells how far a long search has come.
 *
 * Use it for the kind `optimal` where somebody waits: the search is shared out among worker threads, `onProgress` is told how many
 * starts are done, the best so far and how the starts spread, and `signal` stops it with the best so far. The same request gives the
 * same layout as `layOut`, whatever the number of workers, unless it was stopped. Other kinds are laid out at once. Rejects with a
 * `LayoutError` where `layOut` would throw one.
 *
 * Example: `await layOutWithProgress({ factors: [feed, speed], layout: { kind: "optimal", runs: 12, terms: "surface" } }, {
 * onProgress: ({ text }) => console.log(text) })` says such as "40 of 40 starts; best D-efficiency 0.3921, reached by 28".
 */
export async function layOutWithProgress(
  request: LayoutRequest,
  options: ProgressOptions = {},
): Promise<Layout> {
  const { factors, layout } = request;
  const { allow = [], onProgress, signal, workers } = options;
  if (layout.kind !== "optimal") return layOut(request, { allow });
  refuseSameNames(factors);
  const read = readOptions("optimal", optimalSchema, layout);
  const problem = optimalProblem(factors, read, contextOf(request, allow));
  const outcome = await searchInWorkers(request, problem, {
    signal,
    // A function can't be handed to another thread.
    workers: allow.length > 0 ? 0 : workers,
    ...(onProgress ? { onStart: (worths) => onProgress(progressOf(problem, worths)) } : {}),
  });
  return inOrder(request, { options: read, standard: layOutOptimal(problem, outcome, read) });
}
