import type { DataPackage } from "../data-package.ts";
import type { FindingRecord } from "../finding-record.ts";
import { recordElement } from "../embedded-record.ts";
import type { Section } from "../part.ts";

/** Data and software: checksum, version, where the data are and how to get at them. */
export function dataSection(record: FindingRecord, { zip }: DataPackage, zipName: string): Section {
  const { spec } = record.trial;
  return {
    id: "data",
    title: "Data and software",
    parts: [
      {
        kind: "facts",
        facts: [
          [
            "Kind of data",
            spec.dataKind === "invented"
              ? "invented: made up to show the method, nothing was cut"
              : spec.dataKind,
          ],
          ...(spec.source === "" ? [] : ([["Source", spec.source]] as const)),
          ["Published", record.published],
          ["Made with", `Trycut ${record.softwareVersion}`],
          ["Checksum", record.checksum],
        ],
      },
      {
        kind: "text",
        text: "The checksum is SHA-256 over the trial's spec, plan, as-cut notes and readings. The same data give the same sum, so two shops can tell whether they look at the same trial.",
      },
      { kind: "download", name: zipName, text: `Save the data package, ${zipName}`, zip },
      {
        kind: "text",
        text: `The package holds plan, as-cut notes and readings as CSV, the models as JSON, and a description with a unit for every column (Data Package format, datapackage.org). This page needs nothing else: the same data stand in its source as JSON, in the element with the id "${recordElement}".`,
      },
    ],
  };
}
