import { signal } from "@preact/signals";
import type { SearchTold } from "../choice-api.ts";
import { announce } from "./announce.tsx";
import { messageOf, Refused, tell } from "./ask.ts";

type UnderWay = Extract<SearchTold, { kind: "under-way" }>;

/** How far a search for runs has come; null where none is under way. */
export const underWay = signal<UnderWay | null>(null);

/** This page's own name for its search, so that another page's is not stopped. */
const search = `page-${Math.random().toString(36).slice(2)}`;

const starting = { kind: "under-way", starts: 0, startsDone: 0, text: "The search begins." } as const;

/**
 * Has the bench search for the runs of a form or a trial, and shows how far it has come. Resolves when the search has ended by itself or
 * was stopped with the best so far; rejects where it failed, or where `signal` gave it up.
 */
export async function searchFor(
  what: { readonly draft: unknown } | { readonly trial: string },
  options: { readonly signal: AbortSignal },
): Promise<void> {
  underWay.value = starting;
  try {
    const response = await fetch("/api/searches", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ search, ...what }),
      signal: options.signal,
    });
    if (!response.ok || response.body === null) {
      const said: unknown = await response.json().catch(() => null);
      const isTold = typeof said === "object" && said !== null && "error" in said;
      throw new Refused(response.status, isTold ? String(said.error) : "The search could not begin.");
    }
    await follow(response.body);
  } finally {
    if (!options.signal.aborted) underWay.value = null;
  }
}

async function follow(body: ReadableStream<Uint8Array>): Promise<void> {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    const lines = (rest + decoder.decode(value, { stream: true })).split("\n");
    rest = lines.pop() ?? "";
    for (const line of lines) {
      // The bench's own lines, typed by api.ts, which both sides share.
      const told = JSON.parse(line) as SearchTold;
      if (told.kind === "failed") throw new Refused(500, told.message);
      if (told.kind === "done") announce("The search for runs has ended.");
      else underWay.value = told;
    }
  }
}

function stop(): void {
  tell("/api/searches/stop", { search }).catch((error: unknown) => announce(messageOf(error)));
}

/** How far the search has come, and a way to end it with the best so far. */
export function SearchProgress() {
  const told = underWay.value;
  // The box stays in its place and only fills and empties: one that came and went was once drawn double on a busy machine.
  return <div>{told === null ? null : <Progress told={told} />}</div>;
}

function Progress({ told }: { readonly told: UnderWay }) {
  return (
    <div class="searching no-print" role="group" aria-label="Search for the runs">
      <p>
        <strong>Searching for the runs.</strong> {told.text}
      </p>
      <div class="row end">
        <progress
          class="wide"
          aria-label="Starts done"
          max={Math.max(told.starts, 1)}
          value={told.startsDone}
        />
        <button type="button" disabled={told.startsDone === 0} onClick={stop}>
          Stop, keep the best so far
        </button>
      </div>
    </div>
  );
}
