import { strToU8, zipSync, type Zippable } from "fflate";
import { formatAsCut, formatPlan, formatReadings, safeName } from "../store/index.ts";
import { packageDescriptor } from "./package-descriptor.ts";
import { packageReadme } from "./package-readme.ts";
import type { FindingRecord } from "./finding-record.ts";

/** A data package: its files by path, and the same in one zip. */
export interface DataPackage {
  readonly files: Readonly<Record<string, string>>;
  readonly zip: Uint8Array;
}

/** Files in a zip carry a time; a fixed one keeps equal content equal byte for byte. It is the earliest that the format knows. */
const fixedTime = (): Date => new Date(1980, 0, 1);

/**
 * A trial and its models in the open Data Package format (datapackage.org, version 2): datapackage.json with a schema and unit for
 * every column, the plan, what was cut otherwise and the readings as CSV, each model as JSON, trial.json and a README. Text that a
 * spreadsheet would run as a formula has an apostrophe before it. The same record gives the same bytes.
 */
export function dataPackage(record: FindingRecord): DataPackage {
  const { spec, runs, asCut, readings } = record.trial;
  const models = Object.entries(record.models).map(([response, model], at) => ({
    response,
    path: `models/${modelName(response, at, Object.keys(record.models))}.json`,
    text: json(model),
  }));
  const content = {
    "plan.csv": formatPlan(spec, runs),
    "as-cut.csv": formatAsCut(asCut),
    "readings.csv": formatReadings(readings),
    "trial.json": json(spec),
    ...Object.fromEntries(models.map(({ path, text }) => [path, text])),
  };
  const files = {
    "datapackage.json": json(packageDescriptor(record, content, models)),
    "README.md": packageReadme(record, models),
    ...content,
  };
  const entries: Zippable = Object.fromEntries(
    Object.entries(files).map(([path, text]) => [
      path,
      [strToU8(text), { mtime: fixedTime(), level: 9 as const }] as const,
    ]),
  );
  return { files, zip: zipSync(entries) };
}

/** A file's name for a response's model; two responses that would share one are numbered. */
function modelName(response: string, at: number, all: readonly string[]): string {
  const name = safeName(response);
  return all.findIndex((other) => safeName(other) === name) === at ? name : `${name}-${at + 1}`;
}

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
