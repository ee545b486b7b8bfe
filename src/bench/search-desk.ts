import {
  layOut,
  layOutWithProgress,
  LayoutError,
  type Layout,
  type LayoutProgress,
} from "../layout/index.ts";
import type { TrialSpec } from "../trial/index.ts";

/**
 * Where layouts that take a search are found and kept for as long as the bench runs, so that the page stays responsive, typing in
 * another field does not search again, and a search that was stopped is the plan that is committed.
 */
export interface SearchDesk {
  /** The layout, if it needs no search or was searched for; null where a search is still to be made. Throws what `layOut` throws. */
  readonly known: (spec: TrialSpec) => Layout | null;
  /** Searches, and keeps what is found, or why nothing can be. A search that is already under way under this name is stopped first. */
  readonly search: (
    name: string,
    spec: TrialSpec,
    options: { readonly onProgress: (progress: LayoutProgress) => void; readonly signal: AbortSignal },
  ) => Promise<void>;
  /** Searches where it is still to be done, so that `known` knows; a refusal is kept for it to throw. */
  readonly prepare: (spec: TrialSpec, signal: AbortSignal) => Promise<void>;
  /** The layout, searched for where it is still to be; throws what `layOut` throws. */
  readonly layOut: (spec: TrialSpec, signal: AbortSignal) => Promise<Layout>;
  /** Ends the search of that name with the best so far. */
  readonly stop: (name: string) => void;
}

/** So many outcomes are kept; the oldest goes first. */
const mostKept = 40;

type Outcome = { readonly layout: Layout } | { readonly refusal: LayoutError };

/** Everything that decides what a search finds. */
function keyOf({ factors, layout, held, cutter, pass, budget }: TrialSpec): string {
  return JSON.stringify([factors, layout, held, cutter, pass, budget]);
}

export function searchDesk(): SearchDesk {
  const outcomes = new Map<string, Outcome>();
  const underWay = new Map<string, AbortController>();
  const keep = (key: string, outcome: Outcome) => {
    outcomes.delete(key);
    outcomes.set(key, outcome);
    const [oldest] = outcomes.keys();
    if (outcomes.size > mostKept && oldest !== undefined) outcomes.delete(oldest);
  };
  const desk: SearchDesk = {
    known: (spec) => {
      if (spec.layout.kind !== "optimal") return layOut(spec);
      const outcome = outcomes.get(keyOf(spec));
      if (outcome === undefined) return null;
      if ("refusal" in outcome) throw outcome.refusal;
      return outcome.layout;
    },
    search: async (name, spec, { onProgress, signal }) => {
      underWay.get(name)?.abort();
      const stopping = new AbortController();
      underWay.set(name, stopping);
      try {
        const stopped = AbortSignal.any([signal, stopping.signal]);
        const layout = await layOutWithProgress(spec, { onProgress, signal: stopped });
        // Whoever went away has not asked for the best so far.
        if (!signal.aborted) keep(keyOf(spec), { layout });
      } catch (error) {
        if (!(error instanceof LayoutError)) throw error;
        keep(keyOf(spec), { refusal: error });
      } finally {
        if (underWay.get(name) === stopping) underWay.delete(name);
      }
    },
    prepare: async (spec, signal) => {
      if (spec.layout.kind !== "optimal" || outcomes.has(keyOf(spec))) return;
      await desk.search(keyOf(spec), spec, { onProgress: () => undefined, signal });
    },
    layOut: async (spec, signal) => {
      await desk.prepare(spec, signal);
      return desk.known(spec) ?? layOutWithProgress(spec, { signal });
    },
    stop: (name) => underWay.get(name)?.abort(),
  };
  return desk;
}
