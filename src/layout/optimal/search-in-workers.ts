import { availableParallelism } from "node:os";
import { performance } from "node:perf_hooks";
import { startThread } from "../../numerics/index.ts";
import type { LayoutRequest } from "../lay-out.ts";
import type { OptimalProblem } from "./problem.ts";
import { startMaker, tally, type SearchOutcome, type Tally } from "./search.ts";
import { NEXT, STOP, type SearchOrder, type SearchReport } from "./search-worker.ts";
import { stepsOfStart } from "./size-limits.ts";

export interface WorkerSearchOptions {
  readonly signal?: AbortSignal | undefined;
  /** Told after every start, or every few. */
  readonly onStart?: (worths: readonly number[]) => void;
  /** Threads beside this one; 0 makes all starts here. */
  readonly workers?: number | undefined;
}

const module = new URL("./search-worker.ts", import.meta.url);
/** A search that this thread ends within so long is not worth a worker, which takes a third of a second to load. */
const ALONE_MS = 250;
/** Starts of more steps than this (some 50 ms) are left to the workers, so that this thread can answer meanwhile. */
const MOST_STEPS_HERE = 3e7;
/** Progress is told no more often than this. */
const TELL_MS = 50;

/**
 * All starts of a search, shared out among worker threads. This thread makes starts too until the workers are loaded; a number
 * that all threads share says which start is next, and each start has a seed of its own, so that the outcome is the same however
 * many threads there are.
 */
export async function searchInWorkers(
  request: LayoutRequest,
  { model, request: search }: OptimalProblem,
  { signal, onStart, workers = availableParallelism() }: WorkerSearchOptions,
): Promise<SearchOutcome> {
  const shared = new SharedArrayBuffer(8);
  const state = new Int32Array(shared);
  const shouldStop = () => Atomics.load(state, STOP) === 1;
  let crew: Crew | undefined;
  const stop = () => {
    Atomics.store(state, STOP, 1);
    crew?.letGo();
  };
  if (signal?.aborted === true) stop();
  signal?.addEventListener("abort", stop, { once: true });
  const found = tally(search.starts);
  const tell = teller(found, onStart);
  const make = startMaker(model, search, shouldStop);
  const began = performance.now();
  const here = stepsOfStart(model, search.plan) <= MOST_STEPS_HERE;
  try {
    while (!shouldStop()) {
      if (!crew && workers > 0 && (!here || performance.now() - began > ALONE_MS)) {
        // More threads than starts left would have nothing to do.
        const left = search.starts - Atomics.load(state, NEXT);
        crew = startCrew({ request, shared }, Math.min(workers, left), (start, outcome) => {
          found.add(start, outcome);
          tell();
        });
      }
      if (crew && (!here || crew.ready())) break;
      const start = Atomics.add(state, NEXT, 1);
      if (start >= search.starts) break;
      found.add(start, make(start));
      tell();
      await breath();
    }
    if (shouldStop() || Atomics.load(state, NEXT) >= search.starts) crew?.letGo();
    await crew?.ended;
    // What a worker took and did not tell (it could not load, or fell over) is made here; so is a first start after a stop.
    for (let start = 0; start < search.starts && (!shouldStop() || found.empty()); start += 1) {
      if (found.has(start)) continue;
      found.add(start, make(start));
      tell();
      await breath();
    }
    tell({ last: true });
    return found.outcome();
  } finally {
    // Workers that are still loading find nothing left to do and end by themselves.
    stop();
    signal?.removeEventListener("abort", stop);
  }
}

/** A turn of the event loop, in which messages and signals come through. */
function breath(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

function teller(found: Tally, onStart: WorkerSearchOptions["onStart"]) {
  let told = Number.NEGATIVE_INFINITY;
  return ({ last = false }: { readonly last?: boolean } = {}): void => {
    if (!onStart || (!last && performance.now() - told < TELL_MS)) return;
    told = performance.now();
    onStart(found.outcome().worths);
  };
}

interface Crew {
  /** True when every worker has loaded, so that this thread need not help any more. */
  readonly ready: () => boolean;
  /** Resolves when every worker has made its last start, is lost, or was let go. */
  readonly ended: Promise<void>;
  /** Waits no longer for workers that are still loading: they have taken nothing, and end when they find nothing left to do. */
  readonly letGo: () => void;
}

function startCrew(order: SearchOrder, count: number, onOutcome: Tally["add"]): Crew {
  // Only what can be written in a file crosses to another thread.
  const data = { ...order, request: JSON.parse(JSON.stringify(order.request)) as LayoutRequest };
  let ready = 0;
  const loading = new Set<() => void>();
  const ends = Array.from({ length: count }, () => {
    const worker = startThread(module, data);
    return new Promise<void>((resolve) => {
      loading.add(resolve);
      worker.on("message", (report: SearchReport) => {
        if (report.kind === "ready") {
          ready += 1;
          loading.delete(resolve);
        } else if (report.kind === "start") onOutcome(report.start, report.outcome);
        else resolve();
      });
      // A fault of the search itself is met again, and thrown, when this thread makes what is missing.
      worker.on("error", () => resolve());
      worker.on("exit", () => resolve());
    });
  });
  return {
    ready: () => ready === count,
    ended: Promise.all(ends).then(() => undefined),
    letGo: () => loading.forEach((resolve) => resolve()),
  };
}
