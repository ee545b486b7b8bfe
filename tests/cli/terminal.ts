import type { Terminal } from "../../src/cli/verb.ts";

/** A terminal that keeps what was said. */
export function listeningTerminal(
  folder: string,
): Terminal & { readonly said: string[]; readonly complaints: string[] } {
  const said: string[] = [];
  const complaints: string[] = [];
  return {
    said,
    complaints,
    out: (text) => void said.push(text),
    error: (text) => void complaints.push(text),
    folder,
    width: 100,
    now: () => new Date("2026-11-25T10:00:00Z"),
    signal: new AbortController().signal,
  };
}
