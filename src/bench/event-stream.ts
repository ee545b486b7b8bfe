import type { Context } from "hono";
import { streamSSE } from "hono/streaming";

/** One thing told to the page while it stays open. */
export interface Told {
  readonly event: string;
  readonly data: unknown;
}

const heartbeatMs = 20_000;

/**
 * Answers with server-sent events until the page goes away or `signal` stops the bench.
 * @param context the request
 * @param signal stops every stream when the bench closes
 * @param start begins the work; it is given `tell`, and returns what ends the work
 */
export function eventStream(
  context: Context,
  signal: AbortSignal,
  start: (tell: (told: Told) => void) => Promise<() => void> | (() => void),
): Response {
  return streamSSE(context, async (stream) => {
    let queue = Promise.resolve();
    const send = (message: { event: string; data: string }) => {
      queue = queue.then(() => stream.writeSSE(message)).catch(() => undefined);
    };
    const ended = new Promise<void>((resolve) => {
      stream.onAbort(resolve);
      if (signal.aborted) resolve();
      signal.addEventListener("abort", () => resolve(), { once: true });
    });
    const stop = await start(({ event, data }) => send({ event, data: JSON.stringify(data) }));
    send({ event: "open", data: "{}" });
    const heartbeat = setInterval(() => send({ event: "beat", data: "{}" }), heartbeatMs);
    await ended;
    clearInterval(heartbeat);
    stop();
  });
}
