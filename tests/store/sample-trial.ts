import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createTrial, type TrialFolder } from "../../src/store/index.ts";
import type { Run } from "../../src/trial/index.ts";

/** A small trial: feed at two levels by edge, twice. Invented. */
export const sampleSpec = {
  format: "trycut-trial/1",
  title: "Seal face",
  question: "What moves Ra?",
  dataKind: "invented",
  source: "made up for tests",
  display: "metric",
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 },
    { name: "edge", kind: "category", levels: ["fresh", "used"] },
  ],
  responses: [
    { name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 },
    { name: "Rz", unit: "µm", aim: "smaller" },
  ],
  layout: { kind: "given" },
};

export const sampleRuns: readonly Run[] = [1, 2, 3, 4, 5, 6, 7, 8].map((run) => ({
  run,
  standard: run,
  block: run <= 4 ? 1 : 2,
  role: "given",
  settings: { feed: run % 2 === 1 ? 0.1 : 0.2, edge: run % 4 === 1 || run % 4 === 2 ? "fresh" : "used" },
}));

/** A clock that ticks a second at each look, from a fixed moment. */
export function steadyClock(): () => Date {
  let ticks = 0;
  return () => new Date(Date.UTC(2026, 10, 25, 9, 0, ticks++));
}

export async function freshRoot(): Promise<string> {
  return mkdtemp(join(tmpdir(), "trycut-store-"));
}

export async function sampleTrial(): Promise<TrialFolder> {
  return createTrial(await freshRoot(), "seal-face", sampleSpec, sampleRuns, { now: steadyClock() });
}
