import { Session } from "node:inspector";
import type { Worker } from "node:worker_threads";

/** Any worker answers that it has heard, a busy machine permitting; this long is waited for that. */
const hearingMs = 5_000;
/** A loop that has heard stands still within a few hundredths of a second, one that waits never does; a machine that was slow to hear is given as many times longer. */
const standingMs = 500;
const standingShare = 5;

/**
 * Where a worker is computing right now, as the printed stack of an error thrown there would say; empty where it can't be told, as for
 * a worker that waits. The engine's own inspector is asked, inside this process; no port is opened. The worker is to be ended
 * afterwards.
 */
export function stackOfWorker(worker: Worker): Promise<string> {
  return new Promise((told) => {
    const session = new Session();
    const began = performance.now();
    const end = (stack: string): void => {
      clearTimeout(timer);
      session.removeAllListeners();
      // The session must outlive the worker: a worker that was paused for a session that is gone never ends.
      worker.once("exit", () => session.disconnect());
      told(stack);
    };
    let timer = setTimeout(end, hearingMs, "");
    let send: (id: number, method: string, params?: object) => void = () => {};
    session.on("NodeWorker.attachedToWorker", ({ params }) => {
      if (!params.workerInfo.title.startsWith(`[worker ${worker.threadId}]`)) return;
      send = (id, method, more = {}) =>
        session.post("NodeWorker.sendMessageToWorker", {
          sessionId: params.sessionId,
          message: JSON.stringify({ id, method, params: more }),
        });
      send(1, "Debugger.enable");
      send(2, "Debugger.pause");
    });
    session.on("NodeWorker.receivedMessageFromWorker", ({ params }) => {
      const message = JSON.parse(params.message) as InspectorMessage;
      if (message.id === 2) {
        clearTimeout(timer);
        const heardMs = performance.now() - began;
        timer = setTimeout(end, Math.max(standingMs, standingShare * heardMs), "");
      } else if (message.method === "Debugger.paused") {
        const frame = message.params?.callFrames?.[0]?.callFrameId ?? "";
        send(3, "Debugger.evaluateOnCallFrame", {
          callFrameId: frame,
          expression: "new Error().stack",
          returnByValue: true,
        });
      } else if (message.id === 3) {
        send(4, "Debugger.disable");
        end(message.result?.result?.value ?? "");
      }
    });
    try {
      session.connect();
      session.post("NodeWorker.enable", { waitForDebuggerOnStart: false }, (error) => {
        if (error !== null) end("");
      });
    } catch {
      end("");
    }
  });
}

/** What is read of the inspector's messages (Chrome DevTools Protocol, domain Debugger). */
interface InspectorMessage {
  readonly id?: number;
  readonly method?: string;
  readonly params?: { readonly callFrames?: readonly { readonly callFrameId: string }[] };
  readonly result?: { readonly result?: { readonly value?: string } };
}
