import { createHash } from "node:crypto";
import { safeName } from "../store/index.ts";
import type { Factor, Run } from "../trial/index.ts";
import type { FindingRecord } from "./finding-record.ts";

/** A field of a table: the standard's own keys, and `unit`, which the standard leaves to us. */
interface Field {
  readonly name: string;
  readonly type: "integer" | "number" | "string";
  readonly description: string;
  readonly unit?: string;
  readonly categories?: readonly string[];
  readonly constraints?: { readonly required?: true; readonly enum?: readonly string[] };
}

const profile = "https://datapackage.org/profiles/2.0/";

/** The content of datapackage.json. `files` are the other files of the package, by path. */
export function packageDescriptor(
  record: FindingRecord,
  files: Readonly<Record<string, string>>,
  models: readonly { readonly response: string; readonly path: string }[],
): object {
  const { spec, name } = record.trial;
  const about = (path: string): object => ({ path, encoding: "utf-8", ...sizeAndHash(files[path] ?? "") });
  const table = (path: string, description: string, fields: readonly Field[], keys: object): object => ({
    name: safeName(path.replace(/\.csv$/, "")),
    type: "table",
    $schema: `${profile}dataresource.json`,
    ...about(path),
    description,
    format: "csv",
    mediatype: "text/csv",
    dialect: { $schema: `${profile}tabledialect.json`, delimiter: ",", lineTerminator: "\n", header: true },
    schema: { $schema: `${profile}tableschema.json`, fields, missingValues: [""], ...keys },
  });
  const document = (resource: string, path: string, description: string): object => ({
    name: resource,
    $schema: `${profile}dataresource.json`,
    ...about(path),
    description,
    format: "json",
    mediatype: "application/json",
  });
  const toPlan = [{ fields: ["run"], reference: { resource: "plan", fields: ["run"] } }];
  return {
    $schema: `${profile}datapackage.json`,
    name: safeName(name),
    id: `sha256:${record.checksum}`,
    title: spec.title === "" ? name : spec.title,
    description: spec.question,
    created: `${record.published}T00:00:00Z`,
    version: "1.0.0",
    ...(spec.source === "" ? {} : { sources: [{ title: spec.source }] }),
    dataKind: spec.dataKind,
    software: `Trycut ${record.softwareVersion}`,
    trialChecksum: record.checksum,
    resources: [
      table(
        "plan.csv",
        "The runs in cutting order, as planned.",
        planFields(spec.factors, record.trial.runs),
        {
          primaryKey: ["run"],
        },
      ),
      table(
        "as-cut.csv",
        "Where a run was cut otherwise than planned. Analysis uses what was cut.",
        asCutFields,
        {
          foreignKeys: toPlan,
        },
      ),
      table(
        "readings.csv",
        "Every reading, voided ones included.",
        readingFields(spec.responses.map((one) => one.name)),
        {
          primaryKey: ["run", "response", "spot", "repeat"],
          foreignKeys: toPlan,
        },
      ),
      document("trial", "trial.json", "The trial: factors, responses, layout, cutter, machine, measurement."),
      ...models.map(({ response, path }) =>
        document(
          `model-${path.replace(/^models\/|\.json$/g, "")}`,
          path,
          `The model of ${response}: coefficients with intervals, analysis of variance, lack of fit.`,
        ),
      ),
    ],
  };
}

function sizeAndHash(text: string): object {
  const bytes = Buffer.from(text, "utf8");
  return { bytes: bytes.length, hash: `sha256:${createHash("sha256").update(bytes).digest("hex")}` };
}

function planFields(factors: readonly Factor[], runs: readonly Run[]): readonly Field[] {
  return [
    {
      name: "run",
      type: "integer",
      description: "Place in cutting order, from 1.",
      constraints: { required: true },
    },
    { name: "standard", type: "integer", description: "Place in the layout's standard order, from 1." },
    { name: "block", type: "integer", description: "Block, from 1." },
    { name: "role", type: "string", description: "Why the run is in the plan." },
    ...factors.map((factor): Field => {
      if (factor.kind === "quantity") {
        const { name, unit } = factor;
        return { name: `${name} [${unit}]`, type: "number", unit, description: `Setting of ${name}.` };
      }
      return {
        name: factor.name,
        type: "string",
        description: `Level of ${factor.name}.`,
        categories: factor.levels,
      };
    }),
    ...(runs.some(({ wholePlot }) => wholePlot !== undefined)
      ? [
          {
            name: "whole plot",
            type: "integer" as const,
            description:
              "Set-up of the factors that are hard to change, from 1; runs of one number share it.",
          },
        ]
      : []),
  ];
}

const asCutFields: readonly Field[] = [
  { name: "run", type: "integer", description: "The run.", constraints: { required: true } },
  { name: "factor", type: "string", description: "The factor that was set otherwise." },
  { name: "value", type: "string", description: "What was cut: a number in `unit`, or a level." },
  { name: "unit", type: "string", description: "Unit of a number; empty for a level." },
  {
    name: "reason",
    type: "string",
    description: "Why. An apostrophe before =, +, - or @ keeps a spreadsheet from running it.",
  },
];

function readingFields(responses: readonly string[]): readonly Field[] {
  return [
    {
      name: "run",
      type: "integer",
      description: "The run after which it was read.",
      constraints: { required: true },
    },
    { name: "response", type: "string", description: "What was read.", constraints: { enum: responses } },
    {
      name: "value",
      type: "number",
      description: "The reading, in `unit`.",
      constraints: { required: true },
    },
    { name: "unit", type: "string", description: "Unit of the reading." },
    { name: "spot", type: "integer", description: "Where on the surface, from 1." },
    { name: "repeat", type: "integer", description: "Which reading at that spot, from 1." },
    { name: "taken", type: "string", description: "ISO 8601 time; empty where it is not known." },
    {
      name: "note",
      type: "string",
      description: "A note. An apostrophe before =, +, - or @ keeps a spreadsheet from running it.",
    },
    { name: "void", type: "string", description: "Why the reading is not used; empty for a reading in use." },
  ];
}
