import { openTrial, record, trialFolder } from "../../store/index.ts";
import { answersTyped, askedError } from "../answers.ts";
import { UsageError } from "../error.ts";
import { experimentsRoot } from "../experiments-root.ts";
import { numberOption, textOption } from "../option-values.ts";
import type { Verb } from "../verb.ts";

export const recordVerb: Verb = {
  name: "record",
  summary: "write readings of a run into a trial",
  help: [
    "trycut record TRIAL --run 3 [--response Ra] VALUE [VALUE …] [--spots] [--note TEXT] [--json]",
    "",
    "Writes readings of one run. A unit may be typed with the number: 31µin. Several values are repeats at one spot, or each at",
    "a spot of its own with --spots. A reading that is far from its fellows is asked about before anything is written.",
    "",
    "  --run N           the run, as on the run sheet",
    "  --response NAME   which response; needed where the trial has several",
    "  --spot N          the spot on the surface, 1 unless given",
    "  --spots           each value is at a spot of its own: 1, 2, 3, …",
    "  --note TEXT       kept with each reading",
    '  --answer "ID=CHOICE: why"   answers a question about a reading; may be given several times',
    '  --force "why"     keeps every reading as typed, with this note',
  ].join("\n"),
  options: {
    run: { type: "string" },
    response: { type: "string" },
    spot: { type: "string" },
    spots: { type: "boolean" },
    note: { type: "string" },
    answer: { type: "string", multiple: true },
    force: { type: "string" },
  },
  words: [2, 1000],
  run: async ({ words: [name, ...values], options, json }, terminal) => {
    const run = numberOption(options, "run");
    if (run === undefined) throw new UsageError("--run is needed: the run's number on the run sheet.");
    const spot = numberOption(options, "spot") ?? 1;
    const folder = await trialFolder(name, { root: experimentsRoot(terminal) });
    const response = textOption(options, "response") ?? (await onlyResponse(folder));
    const recorded = await record(
      folder,
      values.map((value, index) => ({
        run,
        response,
        value,
        spot: options["spots"] === true ? spot + index : spot,
        note: textOption(options, "note") ?? "",
      })),
      {
        answers: answersTyped(options["answer"]),
        force: textOption(options, "force") ?? "",
        now: terminal.now,
      },
    );
    if (recorded.kind === "asked") {
      if (json) {
        terminal.out(JSON.stringify({ recorded: [], questions: recorded.questions }));
        return 1;
      }
      throw askedError(recorded.questions, terminal.width);
    }
    const { readings, trial } = recorded;
    if (json) terminal.out(JSON.stringify({ recorded: readings, questions: [], checksum: trial.checksum }));
    else
      terminal.out(
        `Saved: run ${run}, ${readings.map(({ value, unit }) => `${response} ${value} ${unit}`).join(", ")}.`,
      );
    return 0;
  },
};

async function onlyResponse(folder: string): Promise<string> {
  const trial = await openTrial(folder);
  const names = trial.spec.responses.map((response) => response.name);
  if (names.length === 1) return names[0];
  throw new UsageError(`--response is needed: ${trial.name} has ${names.join(", ") || "no response"}.`);
}
