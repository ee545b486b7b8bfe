import { resolve } from "node:path";
import { Worker } from "node:worker_threads";
import type { Answers } from "./ask.ts";
import { builtAhead } from "../built-ahead.mjs";
import type { Entry, Page } from "./entry.ts";
import { notebookError } from "./error.ts";
import { errorEntry, shown } from "./error-entry.ts";
import type { OnEntry } from "./page.ts";
import { isoDate, titleBlockOf } from "./title-block.ts";
import { stackOfWorker } from "./stack-of-worker.ts";
import type { RunOrder, WorkerReport } from "./worker.ts";

export interface RunOptions {
  /** Answers to the page's questions, by label. Default none. */
  readonly answers?: Answers;
  /** Told of each entry as it comes; an index that came before replaces that entry. */
  readonly onEntry?: OnEntry;
  /** Stops the run; what came before stays on the page. */
  readonly signal?: AbortSignal;
  /** Stops the run after this many milliseconds. Default 120 000. */
  readonly limitMs?: number;
  /** ISO date for the title block. Default today. */
  readonly date?: string;
}

/** Runs notebooks, each in a worker of its own that was started ahead. */
export interface Runner {
  /** Always resolves to a page; what went wrong is an entry on it. Rejects only where the library itself can't be loaded. */
  readonly run: (file: string, options?: RunOptions) => Promise<Page>;
  /** Resolves when the next run would start at once, with what every notebook does rehearsed. */
  readonly warm: () => Promise<void>;
  /** Ends every worker. */
  readonly close: () => Promise<void>;
}

const defaultLimitMs = 120_000;
const longestLoadMs = 5_000;
const firstFile = new URL("./worker.mjs", import.meta.url);
const librarySource = new URL("../index.ts", import.meta.url).href;

export interface RunnerOptions {
  /** The project's folder, which holds `experiments/` and `notebooks/`. */
  readonly root: string;
  /** A notebook that eats more than this ends its worker, not the bench. Default 2048. */
  readonly memoryMb?: number;
}

/**
 * A runner for the notebooks of one project. One spare worker holds the library loaded; a run takes it, uses it once (nothing of one
 * run can stay for the next), and the next spare starts when the run has ended.
 */
export function createRunner({ root, memoryMb = 2048 }: RunnerOptions): Runner {
  let spare: Promise<Spare> | null = null;
  let closed = false;
  const alive = new Set<Worker>();
  const project = resolve(root);

  function startSpare(): Promise<Spare> {
    const started = startWorker(alive, memoryMb);
    // Who takes the spare hears of its failure; until then it must not count as unhandled.
    started.catch(() => {});
    return started;
  }
  spare = startSpare();

  async function run(file: string, options: RunOptions = {}): Promise<Page> {
    if (closed) throw notebookError("This runner was closed; create another one to run notebooks.");
    const taken = spare ?? startSpare();
    spare = null;
    const date = options.date ?? isoDate(new Date());
    const order: RunOrder = {
      file: resolve(project, file),
      root: project,
      answers: options.answers ?? {},
      date,
    };
    try {
      const { worker } = await taken;
      worker.ref();
      return await runIn(worker, order, options, memoryMb);
    } finally {
      if (!closed) spare ??= startSpare();
    }
  }

  return {
    run,
    warm: async () => {
      const { rehearsed } = await (spare ??= startSpare());
      await rehearsed;
    },
    close: async () => {
      closed = true;
      // A worker that is ended while its loader waits for an answer can hang in Node 20: the spare is let load first, but not for ever.
      await within(
        longestLoadMs,
        spare?.catch(() => null),
      );
      await within(longestLoadMs, Promise.all([...alive].map((worker) => worker.terminate())));
    },
  };
}

/** Waits for some work, at most so long. */
async function within(ms: number, work: Promise<unknown> | undefined): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const over = new Promise((resolve) => (timer = setTimeout(resolve, ms)));
  await Promise.race([work, over]);
  clearTimeout(timer);
}

/** A worker that has loaded the library and waits. */
interface Spare {
  readonly worker: Worker;
  /** Resolves when it has rehearsed too, or was given its run before. */
  readonly rehearsed: Promise<void>;
}

/** Starts a worker that does not keep the program alive. */
async function startWorker(alive: Set<Worker>, memoryMb: number): Promise<Spare> {
  const built = await builtAhead("library");
  return new Promise((ready, failed) => {
    // No flags of this process: under tsx they would register its hooks a second time.
    const worker = new Worker(firstFile, {
      workerData: { library: built ?? librarySource, source: librarySource },
      execArgv: [],
      stdout: true,
      resourceLimits: { maxOldGenerationSizeMb: memoryMb },
    });
    worker.unref();
    // What a notebook prints is for whoever watches the terminal; standard output belongs to the command.
    worker.stdout.pipe(process.stderr, { end: false });
    alive.add(worker);
    worker.once("exit", () => alive.delete(worker));
    const onError = (error: Error): void =>
      failed(notebookError(`The library can't be loaded: ${error.message}`, error));
    worker.once("error", onError);
    worker.once("exit", () =>
      failed(notebookError("The library can't be loaded: its worker ended before it was ready.")),
    );
    const rehearsed = new Promise<void>((done) => {
      worker.on("message", ({ kind }: WorkerReport) => kind !== "ready" && done());
      worker.once("exit", done);
    });
    worker.once("message", () => {
      worker.off("error", onError);
      ready({ worker, rehearsed });
    });
  });
}

function runIn(
  worker: Worker,
  order: RunOrder,
  { onEntry = () => {}, signal, limitMs = defaultLimitMs }: RunOptions,
  memoryMb: number,
): Promise<Page> {
  return new Promise((finished) => {
    const entries: Entry[] = [];
    const began = performance.now();
    let ended = false;
    const keep = (entry: Entry, index: number): void => {
      entries[index] = entry;
      onEntry(entry, index);
    };
    const end = (page: Page): void => {
      ended = true;
      clearTimeout(timer);
      signal?.removeEventListener("abort", stopByHand);
      worker.off("message", onReport).off("error", onError).off("exit", onExit);
      // An error on the way out has nobody to tell any more, and must not end the program.
      worker.on("error", () => {});
      void worker.terminate();
      finished({ ...page, entries });
    };
    const breakOff = (error: unknown, stack = ""): void => {
      if (ended) return;
      keep(
        errorEntry(error, { ...order, lastCall: Object.assign(new Error("stopped"), { stack }) }),
        entries.length,
      );
      const title = shown(order.file, order.root);
      end({ title, entries, titleBlock: titleBlockOf(title, [], order.date), dependencies: [order.file] });
    };
    /** Where it stands is asked first, so that the entry can name the line that does not end. */
    const stop = (message: string): void =>
      void stackOfWorker(worker).then((stack) => breakOff(notebookError(message), stack));
    const stopByHand = (): void =>
      stop(
        `Stopped by hand after ${secondsText(performance.now() - began)}, before it had ended. What it had written stays.`,
      );
    const timer = setTimeout(
      stop,
      limitMs,
      `Stopped after ${secondsText(limitMs)}, the limit for one run. What it had written stays. Look for a loop that does not end.`,
    );
    const onReport = (report: WorkerReport): void => {
      if (report.kind === "entry") keep(report.entry, report.index);
      else if (report.kind === "done") end(report.page);
    };
    const onError = (error: Error): void => breakOff(crashed(error, memoryMb));
    const onExit = (): void => breakOff(notebookError(endedEarly));
    worker.on("message", onReport).on("error", onError).on("exit", onExit);
    if (signal?.aborted === true) return breakOff(notebookError("Stopped by hand before it began."));
    signal?.addEventListener("abort", stopByHand, { once: true });
    worker.postMessage(order);
  });
}

const endedEarly =
  "The notebook ended without finishing: it waits for something that never comes, or called process.exit.";

function crashed(error: Error, memoryMb: number): Error {
  const outOfMemory = "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";
  return outOfMemory
    ? notebookError(
        `Stopped: the notebook used more than ${memoryMb} MB of memory. What it had written stays.`,
      )
    : error;
}

function secondsText(milliseconds: number): string {
  return milliseconds < 9950
    ? `${(milliseconds / 1000).toFixed(1)} s`
    : `${Math.round(milliseconds / 1000)} s`;
}
