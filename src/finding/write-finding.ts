import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { writeWhole } from "../notebook/index.ts";
import type { Finding } from "./publish.ts";

/** Where a finding was written, absolute or as the folder was given. */
export interface WrittenFinding {
  readonly page: string;
  readonly package: string;
}

/**
 * Writes a finding into `finding/` of the trial's folder: `index.html` and `<trial>.zip`. Each file is written whole beside its place
 * and then takes its name in one step, so that a page that was there is replaced whole or stays; the package goes first, so that a
 * page never stands beside an older package than it names.
 *
 * @example await writeFinding(trial.folder, publish(trial, { date: "2026-11-25" })) // { page: "…/finding/index.html", … }
 */
export async function writeFinding(trialFolder: string, finding: Finding): Promise<WrittenFinding> {
  const folder = join(trialFolder, "finding");
  await mkdir(folder, { recursive: true });
  const written = { page: join(folder, "index.html"), package: join(folder, `${finding.trial}.zip`) };
  await writeWhole(written.package, finding.packageZip);
  await writeWhole(written.page, finding.html);
  return written;
}
