import { createHash } from "node:crypto";
import { strFromU8, unzipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { publish } from "../../src/finding/index.ts";
import { fitJson, fitPowerLaw } from "../../src/model/index.ts";
import { readTable } from "../../src/store/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { hostileTrial, sealFace, trialOf, reading } from "./trials.ts";

const date = "2026-11-25";

interface Resource {
  readonly name: string;
  readonly path: string;
  readonly bytes: number;
  readonly hash: string;
  readonly schema?: {
    readonly fields: readonly { readonly name: string; readonly type: string; readonly unit?: string }[];
  };
}
interface Descriptor {
  readonly name: string;
  readonly resources: readonly Resource[];
  readonly trialChecksum: string;
  readonly created: string;
}

describe.each([
  ["a factorial", sealFace()],
  ["hostile text", hostileTrial()],
])("the data package of %s", (_, trial) => {
  const { packageZip, packageFiles } = publish(trial, { date });
  const files = Object.fromEntries(
    Object.entries(unzipSync(packageZip)).map(([path, bytes]) => [path, strFromU8(bytes)]),
  );
  const descriptor = JSON.parse(files["datapackage.json"] ?? "") as Descriptor;

  test("holds in its zip what it says it holds, with size and SHA-256", () => {
    expect(files).toEqual(packageFiles);
    expect(Object.keys(files).sort()).toEqual(
      [
        "README.md",
        "as-cut.csv",
        "datapackage.json",
        "models/ra.json",
        "plan.csv",
        "readings.csv",
        "trial.json",
      ].sort(),
    );
    for (const { path, bytes, hash } of descriptor.resources) {
      const content = Buffer.from(files[path] ?? "", "utf8");
      expect(content.length).toBe(bytes);
      expect(`sha256:${createHash("sha256").update(content).digest("hex")}`).toBe(hash);
    }
  });

  test("names packages and resources as the standard asks (Data Package 2.0, name)", () => {
    const names = [descriptor.name, ...descriptor.resources.map((resource) => resource.name)];
    for (const name of names) expect(name).toMatch(/^[a-z0-9._-]+$/);
    expect(new Set(names.slice(1)).size).toBe(names.length - 1);
    expect(descriptor.created).toBe("2026-11-25T00:00:00Z");
    expect(descriptor.trialChecksum).toBe(trial.checksum);
  });

  test("has a schema that fits each table, column by column and cell by cell", () => {
    const tables = descriptor.resources.filter((resource) => resource.schema !== undefined);
    expect(tables.map((resource) => resource.path)).toEqual(["plan.csv", "as-cut.csv", "readings.csv"]);
    for (const { path, schema } of tables) {
      const [head = [], ...rows] = csvRows(files[path] ?? "");
      expect(head).toEqual(schema?.fields.map((field) => field.name));
      for (const row of rows) {
        row.forEach((cell, at) => {
          const type = schema?.fields[at]?.type;
          if (cell === "" || type === "string") return;
          expect(cell).toMatch(type === "integer" ? /^\d+$/ : /^-?\d+(?:\.\d+)?(?:e-?\d+)?$/);
        });
      }
    }
  });

  test("gives the readings back, number for number", () => {
    const table = readTable(files["readings.csv"] ?? "", { file: "readings.csv" });
    const values = table.columns.find((column) => column.name === "value");
    expect(values?.numbers).toEqual(trial.readings.map((one) => one.value));
    expect(parseTrialSpec(JSON.parse(files["trial.json"] ?? "") as unknown)).toEqual(trial.spec);
  });
});

test("units stand at their columns", () => {
  const { packageFiles } = publish(sealFace(), { date });
  const plan = (JSON.parse(packageFiles["datapackage.json"] ?? "") as Descriptor).resources[0];
  expect(plan?.schema?.fields.find((field) => field.name === "feed [mm/rev]")?.unit).toBe("mm/rev");
});

test("the model's JSON is the fit in full, and says why this model", () => {
  const trial = sealFace();
  const { packageFiles } = publish(trial, { date });
  const model = JSON.parse(packageFiles["models/ra.json"] ?? "") as object;
  expect(model).toMatchObject({ kind: "power-law", logScale: true, confidence: 0.95, unit: "µm" });
  expect(model).toMatchObject(JSON.parse(JSON.stringify(fitJson(fitPowerLaw(trial)))) as object);
});

test("two responses whose names make one file name get a file each", () => {
  const responses = [
    { name: "Ra 1", unit: "µm" },
    { name: "Ra-1", unit: "µm" },
  ];
  const trial = trialOf({ responses }, (run) =>
    responses.map(({ name }) => reading(run.run, 0.5 + 0.01 * run.run, { response: name })),
  );
  const names = Object.keys(publish(trial, { date }).packageFiles).filter((path) =>
    path.startsWith("models/"),
  );
  expect(names).toEqual(["models/ra-1.json", "models/ra-1-2.json"]);
});

test("the zip is the same in every time zone", () => {
  const trial = sealFace();
  const home = process.env.TZ;
  try {
    const zips = ["UTC", "Asia/Tokyo", "America/Los_Angeles"].map((zone) => {
      process.env.TZ = zone;
      return publish(trial, { date }).packageZip;
    });
    expect(zips[1]).toEqual(zips[0]);
    expect(zips[2]).toEqual(zips[0]);
    // DOS time at offset 10 of the first local header (APPNOTE 4.4.6): 1980-01-01 00:00:00 is 0x0000, 0x0021.
    expect([...(zips[0] ?? []).slice(10, 14)]).toEqual([0x00, 0x00, 0x21, 0x00]);
  } finally {
    if (home === undefined) delete process.env.TZ;
    else process.env.TZ = home;
  }
});

/** A plain reader of CSV, written apart from the library's own: quotes doubled inside quotes (RFC 4180). */
function csvRows(text: string): string[][] {
  const rows: string[][] = [[]];
  let cell = "";
  let quoted = false;
  for (let at = 0; at < text.length; at++) {
    const sign = text[at] ?? "";
    if (quoted) {
      if (sign === '"' && text[at + 1] === '"') {
        cell += sign;
        at++;
      } else if (sign === '"') quoted = false;
      else cell += sign;
    } else if (sign === '"') quoted = true;
    else if (sign === "," || sign === "\n") {
      rows.at(-1)?.push(cell);
      cell = "";
      if (sign === "\n") rows.push([]);
    } else cell += sign;
  }
  if (cell !== "") rows.at(-1)?.push(cell);
  return rows.filter((row) => row.length > 0);
}
