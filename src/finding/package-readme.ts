import type { FindingRecord } from "./finding-record.ts";

/** The README of a data package, for a person who has unpacked it and has no Trycut. */
export function packageReadme(
  { trial, checksum, published, softwareVersion }: FindingRecord,
  models: readonly { readonly response: string; readonly path: string }[],
): string {
  const { spec, name } = trial;
  const parts = [
    `# ${oneLine(spec.title === "" ? name : spec.title)}`,
    spec.dataKind === "invented"
      ? "**Invented data.** These readings were made up to show the method. No machine cut them: take no setting from here."
      : "",
    oneLine(spec.question),
    spec.source === "" ? "" : `Source: ${oneLine(spec.source)}`,
    `Kind of data: ${spec.dataKind}. Published ${published} with Trycut ${softwareVersion}.`,
    `## Files

- \`datapackage.json\`: what is here, with a unit for every column, in the Data Package format (https://datapackage.org)
- \`plan.csv\`: the runs in cutting order
- \`as-cut.csv\`: where a run was cut otherwise than planned; analysis uses what was cut
- \`readings.csv\`: every reading; one with a reason under \`void\` is not used
- \`trial.json\`: the trial with its factors, cutter, machine and measurement
${models.map(({ response, path }) => `- \`${path}\`: the model of ${oneLine(response)}`).join("\n")}

CSV files are UTF-8 with decimal points and commas between cells. A cell that a spreadsheet would run as a formula has an apostrophe
before it, which is no part of the text.`,
    `## Check

Checksum of the trial (SHA-256 over spec, plan, as-cut and readings in canonical form): \`${checksum}\`. It stands in the published page
too. Each file's own SHA-256 stands in \`datapackage.json\`.

Settings that hold on one machine may not hold on another: prove them before production parts. The machine's manual, the tool
maker's limits, local codes and licensed practice go before anything written here.`,
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}

/** Text from data on one line, with what Markdown would read as markup taken at its word. */
function oneLine(text: string): string {
  return text.replace(/\s+/g, " ").replace(/[\\`*_[\]<>#|]/g, "\\$&");
}
