import { z } from "zod";
import { record, type NewReading, type TrialFolder } from "../store/index.ts";
import { responseNamed, type Reading } from "../trial/index.ts";
import { convert, isUnit, readQuantity, type Choice } from "../units/index.ts";
import type { QuestionView, RecordAnswer } from "./api.ts";
import { BenchError } from "./error.ts";
import { questionView } from "./import-view.ts";
import { readingView } from "./run-sheet-view.ts";
import { trialHead } from "./trial-head.ts";

const count = z.int().min(1).max(1_000_000);

export const readingRequest = z.strictObject({
  run: count,
  response: z.string().max(200),
  spot: count,
  /** The number that the sheet shows as the next one: two windows that type into one place are noticed by it. */
  repeat: count,
  typed: z.string().max(200),
  note: z.string().max(2_000),
  answers: z.record(z.string(), z.strictObject({ choice: z.string(), note: z.string().max(2_000) })),
});

export type ReadingRequest = z.output<typeof readingRequest>;

/** The question of how a number was meant has this id; its answers are what to type instead. */
const typedQuestion = "typed";

function typedChoices(question: string, choices: readonly Choice[]): QuestionView {
  return {
    id: typedQuestion,
    text: question,
    choices: choices.map(({ write, meaning }) => ({
      id: write,
      label: meaning === "" || meaning === write ? write : `${write}: ${meaning}`,
      needsNote: false,
    })),
  };
}

/** Whether what was typed is what a reading holds, whatever the units. */
function isSameValue(reading: Reading, value: number, unit: string): boolean {
  if (reading.unit === unit) return reading.value === value;
  return isUnit(reading.unit) && isUnit(unit) && convert(value, unit, reading.unit) === reading.value;
}

/**
 * Records what was typed in one field of the run sheet. An answer that was lost on the way does no harm: the same reading
 * sent again is answered as saved, and not written twice.
 */
export async function recordReading(
  trial: TrialFolder,
  asked: ReadingRequest,
  clock: () => Date,
): Promise<RecordAnswer> {
  const { run, response, spot, repeat, note } = asked;
  const { unit } = responseNamed(trial.spec, response);
  const typed = asked.answers[typedQuestion]?.choice ?? asked.typed;
  const read = readQuantity(typed, { unit });
  if (read.kind === "question")
    return { kind: "asked", questions: [typedChoices(read.question, read.choices)] };

  const there = trial.readings.find(
    (reading) =>
      reading.run === run &&
      reading.response === response &&
      reading.spot === spot &&
      reading.repeat === repeat,
  );
  if (there !== undefined) {
    const isSame = read.kind === "value" && isSameValue(there, read.value.value, read.value.unit);
    const view = readingView(there, trial.spec);
    if (isSame) return { kind: "saved", reading: view, head: trialHead(trial, clock()) };
    throw new BenchError(
      409,
      `Run ${run}, ${response}: ${view.text} was recorded here meanwhile, by another window or program. ` +
        "The sheet shows it now; type yours again only if it is a further reading.",
    );
  }

  const reading: NewReading = { run, response, value: typed, spot, repeat, note };
  const answers = Object.fromEntries(Object.entries(asked.answers).filter(([id]) => id !== typedQuestion));
  const outcome = await record(trial.folder, [reading], { answers, now: clock });
  if (outcome.kind === "asked") return { kind: "asked", questions: outcome.questions.map(questionView) };
  const [saved] = outcome.readings;
  if (saved === undefined) return { kind: "left-out" };
  return {
    kind: "saved",
    reading: readingView(saved, outcome.trial.spec),
    head: trialHead(outcome.trial, clock()),
  };
}
