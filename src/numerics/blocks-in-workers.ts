import { availableParallelism } from "node:os";
import { performance } from "node:perf_hooks";
import type { MessagePort, Worker } from "node:worker_threads";
import { startThread } from "./start-thread.ts";

/** Work that falls into numbered blocks, each of which comes out the same wherever it is made. */
export interface BlockWork<Order, Outcome> {
  /** A module that exports `startWorker`, made by `blockWorker`; an address, so that a thread can load it. */
  readonly module: URL;
  /** What the blocks are made from: numbers, texts, arrays of them, nothing with functions. */
  readonly order: Order;
  readonly blocks: number;
  /** Makes one block here. */
  readonly make: (block: number) => Outcome;
}

export interface BlockOptions<Outcome> {
  /** Stops the work; what was made so far is kept. */
  readonly signal?: AbortSignal | undefined;
  /** Told after every block. */
  readonly onBlock?: ((block: number, outcome: Outcome) => void) | undefined;
  /** Threads beside this one, started at once; 0 makes every block here. Default: as many as the machine has, once the work proves long. */
  readonly workers?: number | undefined;
}

/** Work that this thread ends within so long is not worth a thread, which takes a third of a second to load. */
const ALONE_MS = 250;
const STOP = 0;
const NEXT = 1;

type Report<Outcome> =
  | { readonly kind: "ready" }
  | { readonly kind: "block"; readonly block: number; readonly outcome: Outcome }
  | { readonly kind: "end" };

/**
 * Makes the blocks of some work, shared out among threads; this thread helps until they are loaded, with a turn of the event loop after each block. A number
 * that all threads share says which block is next, so the outcome does not depend on how many there are. After a stop, the blocks that were made.
 */
export async function blocksInWorkers<Order, Outcome>(
  { module, order, blocks, make }: BlockWork<Order, Outcome>,
  { signal, onBlock, workers }: BlockOptions<Outcome> = {},
): Promise<ReadonlyMap<number, Outcome>> {
  const shared = new SharedArrayBuffer(8);
  const state = new Int32Array(shared);
  const made = new Map<number, Outcome>();
  const add = (block: number, outcome: Outcome): void => {
    made.set(block, outcome);
    onBlock?.(block, outcome);
  };
  const stopped = (): boolean => Atomics.load(state, STOP) === 1;
  const crew: { worker: Worker; loading: boolean; ended: Promise<void>; letGo: () => void }[] = [];
  const stop = (): void => {
    Atomics.store(state, STOP, 1);
    for (const { loading, letGo } of crew) if (loading) letGo();
  };
  const enlist = (): void => {
    const worker = startThread(module, { order, shared, blocks });
    let letGo = (): void => undefined;
    const ended = new Promise<void>((resolve) => (letGo = resolve));
    const member = { worker, loading: true, ended, letGo };
    worker.on("message", (report: Report<Outcome>) => {
      if (report.kind === "ready") member.loading = false;
      else if (report.kind === "block") add(report.block, report.outcome);
      else letGo();
    });
    // A fault of the work itself is met again, and thrown, when this thread makes what is missing.
    worker.on("error", letGo);
    worker.on("exit", letGo);
    crew.push(member);
  };
  if (signal?.aborted === true) stop();
  signal?.addEventListener("abort", stop, { once: true });
  const began = performance.now();
  try {
    while (!stopped()) {
      if (crew.length === 0 && performance.now() - began > (workers === undefined ? ALONE_MS : -1)) {
        const left = blocks - Atomics.load(state, NEXT);
        for (let k = 0; k < Math.min(workers ?? availableParallelism(), left); k++) enlist();
      }
      if (crew.length > 0 && crew.every(({ loading }) => !loading)) break;
      const block = Atomics.add(state, NEXT, 1);
      if (block >= blocks) break;
      add(block, make(block));
      await breath();
    }
    if (stopped() || Atomics.load(state, NEXT) >= blocks)
      for (const { loading, letGo } of crew) if (loading) letGo();
    await Promise.all(crew.map(({ ended }) => ended));
    // What a thread took and did not tell (it could not load, or fell over) is made here.
    for (let block = 0; block < blocks && !stopped(); block++) {
      if (made.has(block)) continue;
      add(block, make(block));
      await breath();
    }
    return made;
  } finally {
    // Threads that are still loading find nothing left to do and end by themselves.
    stop();
    signal?.removeEventListener("abort", stop);
  }
}

/** What the module of a thread exports as `startWorker`: takes blocks by number until there are none left, or the work is stopped. */
export function blockWorker<Order, Outcome>(
  makerOf: (order: Order) => (block: number) => Outcome,
): (
  port: MessagePort,
  data: { readonly order: Order; readonly shared: SharedArrayBuffer; readonly blocks: number },
) => void {
  return (port, { order, shared, blocks }) => {
    const tell = (report: Report<Outcome>): void => port.postMessage(report);
    const state = new Int32Array(shared);
    tell({ kind: "ready" });
    const make = makerOf(order);
    while (Atomics.load(state, STOP) !== 1) {
      const block = Atomics.add(state, NEXT, 1);
      if (block >= blocks) break;
      tell({ kind: "block", block, outcome: make(block) });
    }
    tell({ kind: "end" });
  };
}

/** A turn of the event loop, in which messages and signals come through. */
function breath(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
