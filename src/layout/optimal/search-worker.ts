import type { MessagePort } from "node:worker_threads";
import { readOptions } from "../common-options.ts";
import { contextOf, type LayoutRequest } from "../lay-out.ts";
import { optimalSchema } from "./options.ts";
import { optimalProblem } from "./problem.ts";
import { startMaker, type StartOutcome } from "./search.ts";

/** What a worker is started with. */
export interface SearchOrder {
  readonly request: LayoutRequest;
  /** Two numbers that all threads share: 1 where the search is to stop; the next start that nobody has taken. */
  readonly shared: SharedArrayBuffer;
}

/** What a worker tells. */
export type SearchReport =
  | { readonly kind: "ready" }
  | { readonly kind: "start"; readonly start: number; readonly outcome: StartOutcome }
  | { readonly kind: "end" };

/** Places of the two shared numbers. */
export const STOP = 0;
export const NEXT = 1;

/** Takes starts by number until there are none left or the search is stopped, and tells what each came to. */
export function startWorker(port: MessagePort, { request, shared }: SearchOrder): void {
  const tell = (report: SearchReport) => port.postMessage(report);
  const state = new Int32Array(shared);
  tell({ kind: "ready" });
  const options = readOptions("optimal", optimalSchema, request.layout);
  const { model, request: search } = optimalProblem(request.factors, options, contextOf(request, []));
  const shouldStop = () => Atomics.load(state, STOP) === 1;
  const make = startMaker(model, search, shouldStop);
  while (!shouldStop()) {
    const start = Atomics.add(state, NEXT, 1);
    if (start >= search.starts) break;
    tell({ kind: "start", start, outcome: make(start) });
  }
  tell({ kind: "end" });
}
