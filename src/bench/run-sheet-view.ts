import { cautions } from "../cutting/index.ts";
import { layoutOfRuns } from "../layout/index.ts";
import { orderRulesOf } from "./order-rules.ts";
import type { TrialFolder } from "../store/index.ts";
import {
  asCutSetting,
  factorNamed,
  settingText,
  type Reading,
  type Response,
  type Run,
  type TrialSpec,
} from "../trial/index.ts";
import { convert, formatNumber, isUnit, withUnit } from "../units/index.ts";
import type { ReadingView, RunSheetAnswer, SheetResponseView, SheetRunView } from "./api.ts";
import { factorViews, runViews } from "./plan-view.ts";
import { trialHead } from "./trial-head.ts";
import { usedSoFar } from "./used-so-far.ts";

/** A reading as it was typed, and beside it in the response's unit where it was typed in another. */
function readingText(reading: Reading, spec: TrialSpec): string {
  const { value, unit, text } = reading;
  const number = text ?? formatNumber(value);
  if (!isUnit(unit)) return `${number} ${unit}`.trim();
  const own = spec.responses.find(({ name }) => name === reading.response)?.unit;
  if (own === undefined || own === unit) return withUnit(number, unit);
  return `${withUnit(number, unit)} (${withUnit(formatNumber(convert(value, unit, own), { digits: 3 }), own)})`;
}

export function readingView(reading: Reading, spec: TrialSpec): ReadingView {
  const { run, response, spot, repeat, taken, note, value, unit, text } = reading;
  const typed = `${text ?? String(value)} ${unit}`.trim();
  return {
    run,
    response,
    spot,
    repeat,
    text: readingText(reading, spec),
    typed,
    taken,
    note,
    void: reading.void,
  };
}

function limitText({ aim, limit, unit }: Response): string {
  if (limit === undefined) return "";
  const words = { smaller: "at most", larger: "at least", target: "target" }[aim];
  return `${words} ${withUnit(formatNumber(limit), unit)}`;
}

function responseViews(spec: TrialSpec): readonly SheetResponseView[] {
  return spec.responses.map((response) => ({
    name: response.name,
    unit: response.unit,
    limit: limitText(response),
  }));
}

/** Where one run was cut otherwise, by factor: the last note counts. */
function asCutOf(trial: TrialFolder, run: Run): Pick<SheetRunView, "asCut" | "asCutReasons"> {
  const notes = trial.asCut.filter((note) => note.run === run.run);
  const last = new Map(notes.map((note) => [note.factor, note]));
  return {
    asCut: trial.spec.factors.map((factor) => {
      const note = last.get(factor.name);
      return note === undefined ? "" : settingText(factor, asCutSetting(factor, note), trial.spec.display);
    }),
    asCutReasons: [...last.values()].map((note) => {
      const factor = factorNamed(trial.spec, note.factor);
      return `${note.factor} cut at ${settingText(factor, asCutSetting(factor, note), trial.spec.display)}: ${note.reason}`;
    }),
  };
}

const measurementWords = { cutoff: "cut-off", tipRadius: "tip radius", across: "trace" } as const;

function measurementTexts({ measurement }: TrialSpec): readonly (readonly [string, string])[] {
  if (measurement === undefined) return [];
  const { cutoff, tipRadius, across } = measurement;
  const trace = across === undefined ? undefined : across === "lay" ? "across the lay" : "along the lay";
  return [
    [measurementWords.cutoff, cutoff] as const,
    [measurementWords.tipRadius, tipRadius] as const,
    [measurementWords.across, trace] as const,
  ].flatMap(([name, value]) => (value === undefined ? [] : [[name, value] as const]));
}

/** Everything on a run sheet: how to cut each run, and what has been read. */
export function runSheetView(trial: TrialFolder, now: Date): RunSheetAnswer {
  const { spec, runs, readings } = trial;
  const planned = runViews(spec, runs);
  return {
    head: trialHead(trial, now),
    factors: factorViews(spec),
    held: Object.entries(spec.held),
    conditions: planned.conditions,
    responses: responseViews(spec),
    runs: runs.map((run, index) => ({
      ...planned.runs[index],
      ...asCutOf(trial, run),
      readings: readings
        .filter((reading) => reading.run === run.run)
        .map((reading) => readingView(reading, spec)),
    })),
    orderRules: orderRulesOf(spec, layoutOfRuns(spec, runs)),
    takes: usedSoFar(spec, runs).sentence,
    cautions: cautions(spec),
    measurement: measurementTexts(spec),
  };
}
