import { fitJson, isMixedFit, mixedFitJson, type FitJson } from "../model/index.ts";
import type { AsCut, Reading, Run, Trial, TrialSpec } from "../trial/index.ts";
import type { FittedResponse } from "./fitted-response.ts";

/** The form of the block of data in a published page; a later form gets a later number. */
export const findingFormat = "trycut-finding/1";

/** What stands in a published page for other programs: the trial as it was, and what was made of it. */
export interface FindingRecord {
  readonly format: typeof findingFormat;
  /** ISO date. */
  readonly published: string;
  readonly softwareVersion: string;
  /** SHA-256 over spec, plan, as-cut and readings. */
  readonly checksum: string;
  readonly trial: {
    readonly name: string;
    readonly spec: TrialSpec;
    readonly runs: readonly Run[];
    readonly asCut: readonly AsCut[];
    readonly readings: readonly Reading[];
  };
  /** By response. */
  readonly models: Readonly<Record<string, PublishedModel>>;
}

/** A fit as it was published, and why this model. */
export interface PublishedModel extends FitJson {
  readonly kind: "linear" | "power-law";
  readonly model: string;
  /** True where the response was fitted as its natural logarithm. */
  readonly logScale: boolean;
  readonly confidence: number;
  readonly unit: string;
  readonly why: string;
}

/** The record of a trial and the fits that its page shows. */
export function findingRecord(
  trial: Trial,
  fitted: readonly FittedResponse[],
  { date, softwareVersion }: { readonly date: string; readonly softwareVersion: string },
): FindingRecord {
  const { name, spec, runs, asCut, readings, checksum } = trial;
  return {
    format: findingFormat,
    published: date,
    softwareVersion,
    checksum,
    trial: { name, spec, runs, asCut, readings },
    models: Object.fromEntries(fitted.flatMap((one) => publishedModel(one))),
  };
}

function publishedModel({
  response,
  fit,
  why,
}: FittedResponse): readonly (readonly [string, PublishedModel])[] {
  if (fit === null) return [];
  const { kind, model, logScale, confidence } = fit;
  return [
    [
      response.name,
      {
        kind,
        model,
        logScale,
        confidence,
        unit: fit.response.unit,
        why,
        ...(isMixedFit(fit) ? mixedFitJson(fit) : fitJson(fit)),
      },
    ],
  ];
}
