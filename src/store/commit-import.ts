import { adopted } from "./adopt.ts";
import type { AnswerOptions } from "./answer-questions.ts";
import { storeError } from "./error.ts";
import { rowOf } from "./journal-readings.ts";
import { asTrialFolder, type TrialFolder } from "./open-trial.ts";
import { previewImport, type ImportOptions, type ImportPreview } from "./preview-import.ts";
import type { ImportProblem } from "./import-table.ts";
import type { Question } from "./question.ts";
import { withTrial, type ChangeOptions } from "./settle.ts";
import { writeChange } from "./write-change.ts";

/** The import is on the disk; or nothing was written, and something is asked. */
export type Imported =
  | {
      readonly kind: "imported";
      readonly trial: TrialFolder;
      readonly readings: number;
      readonly asCut: number;
    }
  | { readonly kind: "asked"; readonly questions: readonly Question[] };

/**
 * Takes in what a preview showed, with the answers: all of it, as one line of the journal, or nothing. The file is gone
 * through again under the lock, so that what others wrote since counts.
 *
 * Refused: a file with problems, and a preview of a trial that is not on disk.
 */
export async function commitImport(
  preview: ImportPreview,
  { answers = {}, force = "", ...options }: AnswerOptions & ChangeOptions = {},
): Promise<Imported> {
  const { folder, source } = preview;
  if (folder === "")
    throw storeError(
      {},
      "the trial of this preview is not on disk, so nothing can be written. Open it with openTrial first.",
    );
  const merged: ImportOptions = {
    ...preview.options,
    answers: { ...preview.options.answers, ...answers },
    ...(force === "" ? {} : { force }),
  };
  return withTrial(
    folder,
    async (held, now) => {
      const trial = asTrialFolder(folder, held.state, held.spec, held.notices);
      const { problems, questions, readings, asCut } = previewImport(source, trial, merged);
      if (problems.length > 0) throw refused(problems, merged.file);
      if (questions.length > 0) return { kind: "asked", questions };
      if (readings.length + asCut.length === 0) return { kind: "imported", trial, readings: 0, asCut: 0 };
      const change = {
        kind: "imported" as const,
        source: merged.file ?? "a pasted table",
        readings: readings.map(rowOf),
        asCut: [...asCut],
        note: merged.force?.trim() ?? "",
      };
      const after = await writeChange(await adopted(held, now), change, { now });
      const written = asTrialFolder(folder, after.state, after.spec, after.notices);
      return { kind: "imported", trial: written, readings: readings.length, asCut: asCut.length };
    },
    options,
  );
}

/** All problems of a file in one refusal, a line each. */
export function refused(problems: readonly ImportProblem[], file = ""): Error {
  const shown = problems.slice(0, 20).map(({ text }) => text);
  const more = problems.length > shown.length ? [`and ${problems.length - shown.length} more`] : [];
  return storeError(
    {},
    [
      `${file === "" ? "The table" : file} can't be taken in:`,
      ...shown,
      ...more,
      "Nothing was written.",
    ].join("\n"),
  );
}
