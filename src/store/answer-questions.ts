import type { Reading } from "../trial/index.ts";
import { storeError } from "./error.ts";
import { chosen, type Answers, type Question } from "./question.ts";
import { keptMark, questionId } from "./questions-about.ts";

export interface AnswerOptions {
  /** Answers by the id of the question. */
  readonly answers?: Answers;
  /** Keeps all that is asked about and not answered, with this note: the answer "keep" to every open question. */
  readonly force?: string;
}

/** Readings after the answers, and the questions that are still open. */
export interface Answered {
  readonly readings: readonly Reading[];
  /** Which of the given readings each of `readings` is. */
  readonly indices: readonly number[];
  readonly open: readonly Question[];
}

/**
 * Applies answers to questions about readings: a mend replaces number and unit, what is kept bears its note, what is left
 * out goes. Refused: an answer that is none of the choices, and a note that is missing.
 */
export function answerQuestions(
  readings: readonly Reading[],
  questions: readonly Question[],
  { answers = {}, force = "" }: AnswerOptions,
): Answered {
  const byReading = new Map(questions.map((question) => [question.id, question]));
  const open: Question[] = [];
  const indices: number[] = [];
  const after = readings.flatMap((reading, index) => {
    const question = byReading.get(questionId(reading));
    const mended = question === undefined ? reading : answered(reading, question, answers, force);
    if (mended === "open" && question !== undefined) open.push(question);
    if (mended === "left out") return [];
    indices.push(index);
    return [mended === "open" ? reading : mended];
  });
  return { readings: after, indices, open };
}

function answered(
  reading: Reading,
  question: Question,
  answers: Answers,
  force: string,
): Reading | "open" | "left out" {
  const answer =
    chosen(question, answers) ?? (force.trim() === "" ? null : { choice: null, note: force.trim() });
  if (answer === null) return "open";
  if ("problem" in answer) throw storeError({ run: reading.run, field: reading.response }, answer.problem);
  const { choice, note } = answer;
  if (choice === null || choice.id === "keep")
    return { ...reading, note: joined(reading.note, keptMark + note.replace(/^kept:?\s+/i, "")) };
  if (choice.id === "leave-out") return "left out";
  if (choice.id === "void") return { ...reading, void: note };
  if (choice.mend === null) return reading;
  const { value, unit } = choice.mend;
  const { run, response, spot, repeat, taken } = reading;
  const was = `typed ${reading.text ?? reading.value} ${reading.unit}`;
  return {
    run,
    response,
    value,
    unit,
    spot,
    repeat,
    taken,
    note: joined(reading.note, was),
    void: reading.void,
  };
}

function joined(a: string, b: string): string {
  return a === "" ? b : `${a}; ${b}`;
}
