import { readFile, realpath, stat } from "node:fs/promises";
import { join, sep } from "node:path";
import { extractData } from "../finding/index.ts";
import type { TrialFolder } from "../store/index.ts";
import type { FindingAnswer, PublishedView } from "./api.ts";
import { BenchError, isRefusal, messageOf } from "./error.ts";
import { recipeForm } from "./recipe-question.ts";
import { trialHead } from "./trial-head.ts";

/** Within a trial's folder. */
export const pagePath = "finding/index.html";

export function packagePath(trial: TrialFolder): string {
  return `finding/${trial.name}.zip`;
}

/** The real path of a published file; null where there is none. A link that leads out of the trial's folder is not followed. */
async function insideTrial(trial: TrialFolder, path: string): Promise<string | null> {
  try {
    const [folder, real] = await Promise.all([realpath(trial.folder), realpath(join(trial.folder, path))]);
    if (real.startsWith(folder + sep)) return real;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return null;
    throw error;
  }
  throw new BenchError(
    403,
    `${path} of ${trial.name} is a link that leads out of it; the bench doesn't follow it.`,
  );
}

/** The bytes of a published file. */
export async function publishedFile(trial: TrialFolder, path: string): Promise<Uint8Array<ArrayBuffer>> {
  const real = await insideTrial(trial, path);
  if (real === null) throw new BenchError(404, `${trial.name} has no ${path} yet. Publish it first.`);
  return new Uint8Array(await readFile(real));
}

async function publishedView(trial: TrialFolder, page: string): Promise<PublishedView> {
  const { checksum, published, softwareVersion } = extractData(await readFile(page, "utf8"));
  const within = `experiments/${trial.name}`;
  return {
    page: `${within}/${pagePath}`,
    package: `${within}/${packagePath(trial)}`,
    date: published,
    edition: String((await stat(page)).mtimeMs),
    softwareVersion,
    checksum,
    outdated: checksum !== trial.checksum,
  };
}

/** What a trial has published, read back from the page itself. */
export async function findingAnswer(trial: TrialFolder, now: Date): Promise<FindingAnswer> {
  const isRead = trial.readings.some((reading) => reading.void === "");
  const base = {
    head: trialHead(trial, now),
    responses: trial.spec.responses.map(({ name }) => name),
    recipe: recipeForm(trial),
    refusal: isRead
      ? ""
      : "There is nothing to publish yet: no reading is in use. Fill in the run sheet first.",
  };
  try {
    const page = await insideTrial(trial, pagePath);
    return { ...base, published: page === null ? null : await publishedView(trial, page), problem: "" };
  } catch (error) {
    // A page that was changed or damaged must not keep the trial from being published anew.
    if (isRefusal(error)) return { ...base, published: null, problem: messageOf(error) };
    throw error;
  }
}
