import type { TrialFolder } from "../store/index.ts";
import type { Trial } from "../trial/index.ts";
import type { TrialHead } from "./api.ts";

const unitsInWords = { metric: "Metric", inch: "Inch" } as const;

/** How many runs have a reading in use of every response. */
export function runsRead({ spec, runs, readings }: Pick<Trial, "spec" | "runs" | "readings">): number {
  if (spec.responses.length === 0) return 0;
  const read = new Set(
    readings
      .filter((reading) => reading.void === "")
      .map(({ run, response }) => JSON.stringify([run, response])),
  );
  return runs.filter(({ run }) => spec.responses.every(({ name }) => read.has(JSON.stringify([run, name]))))
    .length;
}

/** What stands at the head and at the foot of each sheet of a trial. */
export function trialHead(trial: TrialFolder, now: Date): TrialHead {
  const { name, spec, runs, checksum, notices } = trial;
  return {
    name,
    title: spec.title,
    question: spec.question,
    dataKind: spec.dataKind,
    source: spec.source,
    units: unitsInWords[spec.display],
    checksum,
    date: now.toISOString().slice(0, 10),
    runs: runs.length,
    runsRead: runsRead(trial),
    notices,
  };
}
