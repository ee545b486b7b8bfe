import type { RequestListener } from "node:http";
import { getRequestListener } from "@hono/node-server";
import { createBench } from "./bench.ts";
import { ensureClient } from "./build-client.ts";
import { createLaunchToken } from "./launch-token.ts";
import { exposureWarning, listen } from "./listen.ts";
import { openBrowser } from "./open-browser.ts";

/** The first port that is tried. */
export const defaultPort = 8127;

/** How long an answer under way may take once the bench is told to stop. */
const graceMs = 1_500;

export interface StartOptions {
  /** The project's folder; trials lie in its `experiments/`, notebooks in its `notebooks/`. */
  readonly root: string;
  /** The first port to try; the next free one is taken. Default 8127; 0 takes any. */
  readonly port?: number;
  /** One address of this machine; default 127.0.0.1. Any other makes the bench warn. */
  readonly host?: string;
  /** Whether to open a browser where there is a display. Default "where-possible". */
  readonly open?: "where-possible" | "never";
  /** Where to print; default standard output and error. */
  readonly out?: (text: string) => void;
  readonly error?: (text: string) => void;
  /** Stops the bench. Without it, the bench stops at SIGINT and SIGTERM. */
  readonly signal?: AbortSignal;
  readonly token?: string;
  readonly clock?: () => Date;
}

export interface StartedBench {
  /** What the browser opens, with the launch token. */
  readonly url: string;
  /** Such as "127.0.0.1:8127". */
  readonly address: string;
  /** Resolves when the bench has stopped and its port is free again. */
  readonly closed: Promise<void>;
  readonly close: () => Promise<void>;
}

/** An abort signal for the usual ways to stop a program. */
function untilStopped(): AbortSignal {
  const stop = new AbortController();
  for (const name of ["SIGINT", "SIGTERM"] as const) process.once(name, () => stop.abort());
  return stop.signal;
}

/** How long the first page has the machine for itself. */
const firstPageMs = 1_500;

/**
 * Loads the heavier floors once the list of trials has been shown, before they are asked for. What fails to load says so to
 * the request that needs it.
 */
function warmUp(signal: AbortSignal): void {
  const timer = setTimeout(() => {
    void (async () => {
      for (const load of [
        () => import("./run-sheet-view.ts"),
        () => import("./plan-view.ts"),
        () => import("./review-view.ts"),
      ]) {
        if (!signal.aborted) await load().catch(() => undefined);
      }
    })();
  }, firstPageMs);
  timer.unref();
}

/**
 * Starts the bench: builds its page if that is missing or stale, listens on this machine only, prints the address and
 * opens it where a browser can be opened.
 * @param options see `StartOptions`
 * @returns the running bench
 * @throws BenchError where no port is free, the host isn't one of this machine's addresses, or the page can't be built
 * @example
 * const bench = await startBench({ root: ".", open: "never" });
 * // prints "Trycut bench: http://127.0.0.1:8127/?token=…"
 * await bench.close();
 */
export async function startBench(options: StartOptions): Promise<StartedBench> {
  const { root, port = defaultPort, host = "127.0.0.1", open = "where-possible" } = options;
  const { token = createLaunchToken(), clock = () => new Date(), signal = untilStopped() } = options;
  const out = options.out ?? ((text: string) => void process.stdout.write(`${text}\n`));
  const error = options.error ?? ((text: string) => void process.stderr.write(`${text}\n`));

  // The list of trials is opened first: what it needs loads while the port is being opened.
  void import("../store/index.ts").catch(() => undefined);
  const warning = exposureWarning(host);
  if (warning !== "") error(warning);
  await ensureClient();

  const ending = new AbortController();
  const listenerAt = (address: string): RequestListener => {
    const bench = createBench({
      root,
      address,
      token,
      clock,
      signal: ending.signal,
      onFault: (fault) => error(fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)),
    });
    const answer = getRequestListener(bench.fetch);
    return (incoming, outgoing) => void answer(incoming, outgoing);
  };
  const { server, address } = await listen({ host, port, tries: port === 0 ? 1 : 50 }, listenerAt);
  const url = `http://${address}/?token=${token}`;
  out(`Trycut bench: ${url}`);
  out("Stop it with Ctrl+C.");

  const closed = new Promise<void>((resolve) => server.once("close", resolve));
  const close = () => {
    // A reading that is being written gets its answer; streams end at once by the signal.
    ending.abort();
    server.close();
    server.closeIdleConnections();
    setTimeout(() => server.closeAllConnections(), graceMs).unref();
    return closed;
  };
  warmUp(ending.signal);
  if (signal.aborted) await close();
  else signal.addEventListener("abort", () => void close(), { once: true });
  if (open === "where-possible") openBrowser(url);
  return { url, address, closed, close };
}
