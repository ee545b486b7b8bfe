import {
  columnWords,
  previewImport,
  tableWords,
  trialFromTable,
  type ImportOptions,
  type ImportPreview,
  type Question,
  type TablePreview,
  type TableTrialOptions,
  type TrialFolder,
} from "../store/index.ts";
import type { Reading } from "../trial/index.ts";
import { formatNumber, isUnit, withUnit } from "../units/index.ts";
import type { ImportAnswer, QuestionView } from "./api.ts";
import type { ImportRequest, TableRequest } from "./import-request.ts";

const shownReadings = 12;

export function sourceOf({ source }: Pick<ImportRequest, "source">): string | Uint8Array {
  return "text" in source ? source.text : new Uint8Array(Buffer.from(source.base64, "base64"));
}

export function importOptions({ mapping, answers, force, file }: ImportRequest): ImportOptions {
  return { mapping, answers, force, file: file === "" ? "the pasted table" : file };
}

export function tableOptions(request: TableRequest): TableTrialOptions {
  const { title, ...about } = request.about;
  return {
    ...importOptions(request),
    surface: request.surface,
    about: { ...about, ...(title.trim() === "" ? {} : { title: title.trim() }) },
  };
}

export function questionView({ id, text, choices }: Question): QuestionView {
  return {
    id,
    text,
    choices: choices.map((each) => ({ id: each.id, label: each.label, needsNote: each.needsNote })),
  };
}

function valueText({ value, unit, text }: Reading): string {
  const number = text ?? formatNumber(value);
  return isUnit(unit) ? withUnit(number, unit) : `${number} ${unit}`.trim();
}

function firstOf(readings: readonly Reading[]): ImportAnswer["first"] {
  return {
    columns: ["run", "response", "value", "spot", "repeat"],
    rows: readings
      .slice(0, shownReadings)
      .map((each) => [
        String(each.run),
        each.response,
        valueText(each),
        String(each.spot),
        String(each.repeat),
      ]),
  };
}

function matters({ problems, questions }: Pick<ImportPreview, "problems" | "questions">) {
  return { problems: problems.map(({ text }) => text), questions: questions.map(questionView) };
}

/** What a table would add to a trial. */
export function importAnswer(trial: TrialFolder, request: ImportRequest): ImportAnswer {
  const preview = previewImport(sourceOf(request), trial, importOptions(request));
  const { spec } = trial;
  return {
    ...matters(preview),
    rows: preview.rows,
    columns: preview.columns.map(({ column, meaning, why, samples }) => {
      return { name: column.name, header: column.header, meaning, why, samples };
    }),
    meanings: [
      ...spec.factors.map(({ name }) => name),
      ...spec.responses.map(({ name }) => name),
      ...columnWords,
    ],
    readings: preview.readings.length,
    first: firstOf(preview.readings),
    notes: [
      ...preview.conversions.map(({ text }) => text),
      ...preview.asCut.map(({ run, factor, value, unit }) =>
        `Run ${run} was cut at ${factor} ${value} ${unit}`.trim(),
      ),
    ],
    runs: 0,
  };
}

/** The trial that a table would become. */
export function tableAnswer(request: TableRequest): ImportAnswer {
  return tablePreviewAnswer(trialFromTable(sourceOf(request), tableOptions(request)));
}

export function tablePreviewAnswer(preview: TablePreview): ImportAnswer {
  return {
    ...matters(preview),
    rows: preview.rows,
    columns: preview.columns.map(({ column, role, why }) => {
      return {
        name: column.name,
        header: column.header,
        meaning: role,
        why,
        samples: column.texts.slice(0, 3),
      };
    }),
    meanings: [...tableWords],
    readings: preview.readings.length,
    first: firstOf(preview.readings),
    notes: [
      ...(preview.told === "" ? [] : [preview.told]),
      ...(preview.spots.length === 0 ? [] : [`Spots by name: ${preview.spots.join(", ")}.`]),
    ],
    runs: preview.runs.length,
  };
}
