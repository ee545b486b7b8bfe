import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import type { TrialSpec } from "../trial/index.ts";
import { messageOf } from "./error.ts";
import { isMissing, journalFile } from "./journal-file.ts";
import { judgeFolder } from "./judge-folder.ts";
import { asTrialFolder, type TrialFolder } from "./open-trial.ts";
import { questionsAbout } from "./questions-about.ts";
import { readFolder } from "./read-folder.ts";
import type { State } from "./replay.ts";

/** What is to be done next with a trial. */
export interface NextStep {
  readonly step: "lay out" | "cut" | "review" | "publish" | "done" | "mend";
  /** In words: "cut 3 more of 12 runs". */
  readonly text: string;
}

/** A trial as the list of trials shows it. */
export interface TrialSummary {
  readonly name: string;
  readonly folder: string;
  readonly title: string;
  readonly question: string;
  readonly dataKind: TrialSpec["dataKind"] | "";
  readonly runs: number;
  /** Runs that have a reading in use of every response. */
  readonly cut: number;
  readonly readings: number;
  readonly voided: number;
  readonly checksum: string;
  readonly next: NextStep;
  /** Why the trial can't be opened; empty where it can. */
  readonly problem: string;
}

/**
 * The trials in a folder, by name, each with what to do next. Nothing is written. A trial with errors is listed with its
 * problem, and does not keep the others from being listed.
 */
export async function listTrials(root = "experiments"): Promise<readonly TrialSummary[]> {
  const names = await readdir(root, { withFileTypes: true }).catch((cause: unknown) => {
    if (isMissing(cause)) return [];
    throw cause;
  });
  const folders = names.filter(
    (entry) => !entry.name.startsWith(".") && (entry.isDirectory() || entry.isSymbolicLink()),
  );
  const summaries = await Promise.all(folders.map(async ({ name }) => summaryOf(name, join(root, name))));
  return summaries.filter((summary) => summary !== null).sort((a, b) => a.name.localeCompare(b.name, "en"));
}

async function summaryOf(name: string, folder: string): Promise<TrialSummary | null> {
  const isTrial = await Promise.all([join(folder, "trial.json"), join(folder, journalFile)].map(exists));
  if (!isTrial.includes(true)) return null;
  try {
    const found = await readFolder(folder);
    const { state, spec } = judgeFolder(found, { afterCrash: true });
    return summarised(asTrialFolder(folder, state, spec, []), state);
  } catch (cause) {
    const problem = messageOf(cause);
    const next: NextStep = { step: "mend", text: "mend its files" };
    return {
      name,
      folder,
      title: name,
      question: "",
      dataKind: "",
      runs: 0,
      cut: 0,
      readings: 0,
      voided: 0,
      checksum: "",
      next,
      problem,
    };
  }
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

function summarised(trial: TrialFolder, state: State): TrialSummary {
  const { name, folder, spec, runs, readings, checksum } = trial;
  const read = new Set(
    readings.filter((reading) => reading.void === "").map(({ run, response }) => `${run}/${response}`),
  );
  const cut = runs.filter(({ run }) =>
    spec.responses.every((response) => read.has(`${run}/${response.name}`)),
  ).length;
  return {
    name,
    folder,
    title: spec.title,
    question: spec.question,
    dataKind: spec.dataKind,
    runs: runs.length,
    cut: spec.responses.length === 0 ? 0 : cut,
    readings: readings.length,
    voided: readings.filter((reading) => reading.void !== "").length,
    checksum,
    next: nextStep(trial, state, spec.responses.length === 0 ? 0 : cut),
    problem: "",
  };
}

/** What to do next with a trial, from its runs, its readings and what the journal says about review and publication. */
function nextStep(trial: TrialFolder, { reviewed, published }: State, cut: number): NextStep {
  const { runs, checksum, spec } = trial;
  if (runs.length === 0) return { step: "lay out", text: "lay out the runs" };
  if (spec.responses.length === 0)
    return { step: "mend", text: "name a response in trial.json: there is nothing to read" };
  const left = runs.length - cut;
  if (left > 0)
    return {
      step: "cut",
      text:
        cut === 0 ? `cut ${left} ${left === 1 ? "run" : "runs"}` : `cut ${left} more of ${runs.length} runs`,
    };
  if (published?.checksum === checksum) return { step: "done", text: `published: ${published.file}` };
  if (reviewed === checksum) return { step: "publish", text: "publish" };
  const doubtful = questionsAbout(trial, trial.readings).length;
  if (doubtful > 0)
    return {
      step: "review",
      text: `review: ${doubtful} ${doubtful === 1 ? "reading looks" : "readings look"} doubtful`,
    };
  return published === null
    ? { step: "review", text: "review the results, then publish" }
    : { step: "publish", text: "publish again: something changed since" };
}
