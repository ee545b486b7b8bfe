import type { Reading, Trial } from "../trial/index.ts";
import { answerQuestions } from "./answer-questions.ts";
import type { FileReading } from "./import-readings.ts";
import type { Answers, Question } from "./question.ts";
import { questionsAbout } from "./questions-about.ts";
import { newReadings } from "./record.ts";

/** The readings of a file as they would be written, each with its line, and what is still asked about them. */
export interface FileDoubts {
  readonly readings: readonly Reading[];
  readonly lines: readonly number[];
  readonly open: readonly Question[];
}

/**
 * Numbers the readings of a file in the order given (that of its repeat column), puts them into the order of its lines,
 * asks about those that look wrong beside their fellows, and applies the answers.
 */
export function fileDoubts(
  trial: Trial,
  read: readonly FileReading[],
  { answers, force, file }: { readonly answers: Answers; readonly force: string; readonly file: string },
): FileDoubts {
  const numbered = newReadings(trial, read, "")
    .map((reading, index) => ({ reading: withText(reading, read[index]), line: read[index].line }))
    .sort((a, b) => a.line - b.line);
  const readings = numbered.map(({ reading }) => reading);
  const lines = numbered.map(({ line }) => line);
  const after = answerQuestions(readings, questionsAbout(trial, readings, { file, lines }), {
    answers,
    force,
  });
  return { readings: after.readings, lines: after.indices.map((index) => lines[index]), open: after.open };
}

function withText(reading: Reading, { text }: FileReading): Reading {
  return text === undefined ? reading : { ...reading, text };
}
