import { planCost } from "../../layout/index.ts";
import { remarks } from "../../review/index.ts";
import { listTrials, openTrial, questionsAbout } from "../../store/index.ts";
import { settingText } from "../../trial/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { RefusedError } from "../error.ts";
import { experimentsRoot } from "../experiments-root.ts";
import type { Terminal, Verb } from "../verb.ts";

export const statusVerb: Verb = {
  name: "status",
  summary: "say where a trial stands and what to do next",
  help: [
    "trycut status [TRIAL] [--json]",
    "",
    "With a trial: what is cut, what is read, what looks doubtful, what to do next. Without: all trials of the project, a line each.",
  ].join("\n"),
  options: {},
  words: [0, 1],
  run: async ({ words: [name], json }, terminal) =>
    name === undefined ? allTrials(json, terminal) : oneTrial(name, json, terminal),
};

async function allTrials(json: boolean, terminal: Terminal): Promise<number> {
  const trials = await listTrials(experimentsRoot(terminal));
  if (json) terminal.out(JSON.stringify({ trials }));
  else if (trials.length === 0) terminal.out(`No trials in ${experimentsRoot(terminal)}.`);
  else {
    terminal.out(
      alignedTable(
        ["trial", "kind", "cut", "next"],
        trials.map(({ name, dataKind, cut, runs, next, problem }) => [
          name,
          dataKind,
          `${cut} of ${runs}`,
          problem || next.text,
        ]),
      ),
    );
  }
  return 0;
}

async function oneTrial(name: string, json: boolean, terminal: Terminal): Promise<number> {
  const root = experimentsRoot(terminal);
  const trial = await openTrial(name, { root });
  const summary = (await listTrials(root)).find((one) => one.folder === trial.folder);
  if (!summary) throw new RefusedError(`${trial.folder} is not in ${root}. Name a trial of this project.`);
  const read = new Set(trial.readings.filter((reading) => reading.void === "").map(({ run }) => run));
  const toCut = trial.runs.filter(({ run }) => !read.has(run));
  const questions = questionsAbout(trial, trial.readings);
  const found = read.size > 0 ? remarks(trial) : [];
  const minutes = planCost(trial.spec, trial.runs).total?.minutesSoFar ?? null;
  if (json) {
    terminal.out(
      JSON.stringify({ ...summary, toCut: toCut.map(({ run }) => run), questions, remarks: found }),
    );
    return 0;
  }
  const [next] = toCut;
  const line = (text: string) => wrapped(text, terminal.width, { indent: "  " });
  terminal.out(
    [
      `${trial.spec.title} (${trial.spec.dataKind} data)`,
      `${summary.cut} of ${summary.runs} runs cut, ${summary.readings} readings, ${summary.voided} of them void.`,
      ...(minutes === null ? [] : [`The whole plan takes about ${Math.ceil(minutes)} minutes.`]),
      `Next: ${summary.next.text}.`,
      ...(next
        ? [
            `  run ${next.run}: ${trial.spec.factors.map((factor) => `${factor.name} ${settingText(factor, next.settings[factor.name], trial.spec.display)}`).join(", ")}`,
          ]
        : []),
      ...trial.notices.map(line),
      ...questions.map(({ text }) => line(`? ${text}`)),
      ...found.map(({ title }) => line(`! ${title}`)),
    ].join("\n"),
  );
  return 0;
}
