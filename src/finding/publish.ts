import { cautions } from "../cutting/index.ts";
import { renderSheet, softwareVersion, type TitleBlock } from "../notebook/index.ts";
import { remarks, type Remark } from "../review/index.ts";
import { trialChecksum } from "../store/index.ts";
import type { Trial } from "../trial/index.ts";
import { dataPackage } from "./data-package.ts";
import { embedRecord } from "./embedded-record.ts";
import { findingError } from "./error.ts";
import { findingRecord } from "./finding-record.ts";
import { fitResponses, type AskedModel, type FittedResponse } from "./fitted-response.ts";
import type { Section } from "./part.ts";
import { recipeAskedByTrial, type RecipeAsked } from "./recipe-asked.ts";
import { renderSections } from "./render-sections.ts";
import { checksSection } from "./sections/checks.ts";
import { dataSection } from "./sections/data.ts";
import { foundSection } from "./sections/found.ts";
import { levelsSection } from "./sections/levels.ts";
import { measurementSection } from "./sections/measurement.ts";
import { planSection } from "./sections/plan.ts";
import { readingsSection } from "./sections/readings.ts";
import { recipeSection } from "./sections/recipe.ts";

export interface PublishOptions {
  /** ISO date of publication, such as "2026-11-25". */
  readonly date: string;
  /** Of every interval. Default 0.95. */
  readonly confidence?: number;
  /** One-sided, of the recipe where `recipe` is left out. Default 0.95. */
  readonly assurance?: number;
  /** What is asked of the recipe. Default: the limits that the trial states, each for 95 % of parts, and the most removal. */
  readonly recipe?: RecipeAsked;
  /** A model, or a fit that was already made, by response. Default: chosen from the plan; see `chooseModel`. */
  readonly models?: Readonly<Record<string, AskedModel>>;
}

/** A finding, ready to be written or sent. */
export interface Finding {
  /** The trial's name. */
  readonly trial: string;
  /** One page that needs nothing else, with the data inside. */
  readonly html: string;
  /** The same data in the open Data Package format. */
  readonly packageZip: Uint8Array;
  readonly packageFiles: Readonly<Record<string, string>>;
  /** SHA-256 over the trial's spec, plan, as-cut notes and readings. */
  readonly checksum: string;
}

/**
 * A trial as a page that another shop can read, check and add its own data to: question, which settings keep the limits (recipe,
 * margins, proof runs), what was found (effects with intervals, figures), levels compared, what the data can't say, cautions, how it was cut and measured, readings, checks of the model, data. Nothing is
 * fetched and nothing runs in it. The same trial and options give the same bytes.
 *
 * Refused: a trial without runs or without a reading in use, a date that is none, a model for a response that the trial does not have.
 *
 * @example publish(trial, { date: "2026-11-25" }).html.startsWith("<!doctype html>") // true
 */
export function publish(given: Trial, options: PublishOptions): Finding {
  const { date, confidence = 0.95, assurance = 0.95, models = {}, recipe } = options;
  checkDate(date);
  checkReadings(given);
  // Of what is published, whatever the trial in memory was read with.
  const trial: Trial = { ...given, checksum: trialChecksum(given) };
  const fitted = fitResponses(trial, { confidence, models });
  const record = findingRecord(trial, fitted, { date, softwareVersion });
  const data = dataPackage(record);
  const sections: readonly Section[] = [
    recipeSection(trial, fitted, recipe ?? recipeAskedByTrial(trial, { assurance })),
    foundSection(trial, fitted),
    levelsSection(fitted),
    remarksSection(trial, fitted),
    {
      id: "cautions",
      title: "Cautions",
      parts: [{ kind: "cautions", cautions: cautions(trial.spec) }],
    },
    planSection(trial),
    measurementSection(trial, fitted),
    readingsSection(trial),
    checksSection(trial, fitted),
    dataSection(record, data, `${trial.name}.zip`),
  ];
  const titleBlock = titleBlockOf(trial, date);
  const html = renderSheet({
    title: titleBlock.title,
    question: trial.spec.question,
    body: renderSections(sections),
    titleBlock,
    after: embedRecord(record),
  });
  return {
    trial: trial.name,
    html,
    packageZip: data.zip,
    packageFiles: data.files,
    checksum: trial.checksum,
  };
}

/** Remarks on each fit, and on the trial where nothing could be fitted; one that several responses raise stands once. */
function remarksSection(trial: Trial, fitted: readonly FittedResponse[]): Section {
  const all = fitted.flatMap(({ fit }) => remarks(trial, fit ?? undefined));
  const once = new Map<string, Remark>(
    all.map((remark) => [`${remark.kind} ${remark.title} ${remark.evidence}`, remark]),
  );
  const ordered = [...once.values()].sort(
    (a, b) => Number(b.weight === "caution") - Number(a.weight === "caution"),
  );
  return { id: "limits", title: "What the data can't say", parts: [{ kind: "remarks", remarks: ordered }] };
}

function titleBlockOf({ name, spec, checksum }: Trial, date: string): TitleBlock {
  const { title, question, display, dataKind, source } = spec;
  return {
    title: title === "" ? name : title,
    trial: name,
    question,
    units: display,
    date,
    checksum,
    dataKind,
    source,
    softwareVersion,
  };
}

function checkDate(date: string): void {
  const parsed = /^\d{4}-\d{2}-\d{2}$/.test(date) ? new Date(`${date}T00:00:00Z`) : new Date(Number.NaN);
  if (Number.isNaN(parsed.getTime()) || !parsed.toISOString().startsWith(date)) {
    throw findingError(`publish: the date is "${date}"; expected year, month and day as in "2026-11-25".`);
  }
}

function checkReadings({ name, runs, readings }: Trial): void {
  if (runs.length === 0) {
    throw findingError(
      `${name} has no runs: there is nothing to publish. Lay it out, cut it and record readings first.`,
    );
  }
  if (!readings.some((reading) => reading.void === "")) {
    throw findingError(`${name} has no reading in use: there is nothing to publish. Record readings first.`);
  }
}
