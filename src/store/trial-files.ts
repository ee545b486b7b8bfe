import { hash } from "node:crypto";

/** The files of a trial that people open, in the order in which they depend on each other. */
export const trialFiles = ["trial.json", "plan.csv", "as-cut.csv", "readings.csv"] as const;

export type TrialFile = (typeof trialFiles)[number];

/** SHA-256 in hexadecimal. */
export function sha256(content: string | Uint8Array): string {
  // One call: a journal has a checksum on every line.
  return hash("sha256", content, "hex");
}
