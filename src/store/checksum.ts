import { createHash } from "node:crypto";
import type { Trial } from "../trial/index.ts";

/**
 * SHA-256, in hexadecimal, over what a trial says: spec, plan, as-cut notes and readings, in a canonical form (JSON with
 * sorted keys, numbers in their fewest digits). Layout of files, order of keys and typed digits do not enter; anything
 * else that changes changes it. Use it to tell whether two shops look at the same data.
 */
export function trialChecksum({
  spec,
  runs,
  asCut,
  readings,
}: Pick<Trial, "spec" | "runs" | "asCut" | "readings">): string {
  const hash = createHash("sha256");
  hash.update(canonicalJson(spec));
  for (const { run, standard, block, role, settings, wholePlot } of runs)
    hash.update(`\nrun ${canonicalJson({ run, standard, block, role, settings, wholePlot })}`);
  for (const { run, factor, value, unit, reason } of asCut)
    hash.update(`\ncut ${JSON.stringify([run, factor, value, unit, reason])}`);
  const lines = readings.map((reading) => {
    const { run, response, value, unit, spot, repeat, taken, note } = reading;
    return `\nreading ${JSON.stringify([run, response, value, unit, spot, repeat, taken, note, reading.void])}`;
  });
  return hash.update(lines.join("")).digest("hex");
}

/** JSON with sorted keys; what is undefined is left out, as JSON does. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    typeof part === "object" && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
}
