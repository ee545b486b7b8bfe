import { responseNamed, type Reading, type Trial } from "../trial/index.ts";
import { readQuantity, type UnitName } from "../units/index.ts";
import { adopted } from "./adopt.ts";
import { answerQuestions, type AnswerOptions } from "./answer-questions.ts";
import { storeError, type Place } from "./error.ts";
import { rowOf } from "./journal-readings.ts";
import { kept, knownUnit } from "./number-field.ts";
import { asTrialFolder, type TrialFolder } from "./open-trial.ts";
import type { Question } from "./question.ts";
import { questionsAbout } from "./questions-about.ts";
import { keyText, keyWords, repeatCounter } from "./reading-key.ts";
import { timeInCell } from "./readings-file.ts";
import { withTrial, type ChangeOptions } from "./settle.ts";
import { tidyNote } from "./typed-text.ts";
import { writeChange } from "./write-change.ts";

/** A reading as it is typed in. */
export interface NewReading {
  readonly run: number;
  readonly response: string;
  /** A number in `unit`, or what was typed: "0.82", "0,82", "31 µin". */
  readonly value: number | string;
  /** Default: the response's own. */
  readonly unit?: string;
  /** Default 1. */
  readonly spot?: number;
  /** Default: the next free one at the spot. */
  readonly repeat?: number;
  /** ISO 8601. Default: now. */
  readonly taken?: string;
  readonly note?: string;
  /** The reason, for a reading that is written down as void from the start. */
  readonly void?: string;
}

/** The readings are on the disk; or nothing was written, and something is asked. */
export type Recorded =
  | { readonly kind: "recorded"; readonly trial: TrialFolder; readonly readings: readonly Reading[] }
  | { readonly kind: "asked"; readonly questions: readonly Question[] };

/**
 * Records readings. When it returns "recorded", they are synced to the disk in the journal, and readings.csv is written. A
 * reading that looks wrong beside its fellows is asked about first: all of them are recorded with the answers, or none.
 *
 * `folder` is the trial's folder. Refused: a run that is not in the plan, an unknown response, a value that is no number or
 * of another dimension, a run, spot and repeat that is recorded already.
 */
export async function record(
  folder: string,
  readings: readonly NewReading[],
  options: AnswerOptions & ChangeOptions = {},
): Promise<Recorded> {
  return withTrial(
    folder,
    async (held, now) => {
      const trial = asTrialFolder(folder, held.state, held.spec, held.notices);
      const made = newReadings(trial, readings, now().toISOString());
      const { readings: mended, open } = answerQuestions(made, questionsAbout(trial, made), options);
      if (open.length > 0) return { kind: "asked", questions: open };
      if (mended.length === 0) return { kind: "recorded", trial, readings: [] };
      const change = {
        kind: "recorded" as const,
        readings: mended.map(rowOf),
        note: options.force?.trim() ?? "",
      };
      const after = await writeChange(await adopted(held, now), change, { now });
      return {
        kind: "recorded",
        trial: asTrialFolder(folder, after.state, after.spec, after.notices),
        readings: mended,
      };
    },
    options,
  );
}

/** Checks typed readings against the trial and numbers them. Nothing is asked yet. */
export function newReadings(trial: Trial, readings: readonly NewReading[], now: string): readonly Reading[] {
  const runs = new Set(trial.runs.map((run) => run.run));
  const numbered = readings.filter((reading) => reading.repeat !== undefined);
  const next = repeatCounter([
    ...trial.readings,
    ...numbered.map(({ run, response, spot = 1, repeat = 1 }) => ({ run, response, spot, repeat })),
  ]);
  const taken = new Set(trial.readings.map(keyText));
  return readings.map((typed) => {
    const { run, response: name, note = "", spot = 1 } = typed;
    const place = { run, field: name };
    if (!runs.has(run)) {
      const plan =
        trial.runs.length === 0
          ? "the trial is not laid out yet"
          : `the plan has runs 1 to ${trial.runs.length}`;
      throw storeError(
        { run, field: "run" },
        `got run ${run}; ${plan}. Check the number; nothing was written.`,
      );
    }
    const { unit } = responseNamed(trial.spec, name);
    checkCount(spot, { run, field: "spot" });
    if (typed.repeat !== undefined) checkCount(typed.repeat, { run, field: "repeat" });
    const repeat = typed.repeat ?? next({ run, response: name, spot });
    const reading: Reading = {
      run,
      response: name,
      ...typedValue(typed, unit, place),
      spot,
      repeat,
      taken: typed.taken === undefined ? now : timeInCell(typed.taken, { run, field: "taken" }),
      note: tidyNote(note),
      void: tidyNote(typed.void ?? ""),
    };
    if (taken.has(keyText(reading))) {
      throw storeError(
        place,
        `${keyWords(reading)} is recorded already. Leave the repeat out for a further reading; nothing was written.`,
      );
    }
    taken.add(keyText(reading));
    return reading;
  });
}

function typedValue(
  typed: NewReading,
  responseUnit: UnitName,
  place: Place,
): Pick<Reading, "value" | "unit" | "text"> {
  const unit =
    typed.unit === undefined || typed.unit.trim() === ""
      ? responseUnit
      : knownUnit(typed.unit, responseUnit, place);
  if (typeof typed.value === "number") {
    if (Number.isFinite(typed.value)) return { value: typed.value, unit };
    throw storeError(place, `got ${typed.value}; expected a finite number of ${unit}. Nothing was written.`);
  }
  const answer = readQuantity(typed.value, { unit });
  if (answer.kind === "value") {
    const { value, unit: typedUnit } = answer.value;
    return { value, unit: typedUnit, ...typedDigits(typed.value, value) };
  }
  throw storeError(
    place,
    `${answer.kind === "question" ? answer.question : answer.message} Nothing was written.`,
  );
}

/** The digits as typed ("0.80", "0,80"), where they are the number itself: not those of 3/8 or 1 1/2. */
export function typedDigits(typed: string, value: number): { readonly text?: string } {
  const digits = /^[+-]?[\d.,]+/.exec(typed.trim())?.[0] ?? "";
  const text = digits.replace(",", ".");
  return Number(text) === value ? kept(text, value, "point") : {};
}

function checkCount(value: number, place: Place): void {
  if (Number.isSafeInteger(value) && value >= 1) return;
  throw storeError(place, `got ${value}; expected a whole number from 1. Nothing was written.`);
}
