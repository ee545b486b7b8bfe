import type { TitleBlock } from "./entry.ts";
import { escapeHtml } from "./escape.ts";

/** As many characters of a checksum as a person compares; the rest is in the page's details. */
const checksumShown = 12;

/** The ruled block at the foot of a sheet. Cells without content are left out. */
export function renderTitleBlock(block: TitleBlock): string {
  const cells: readonly (readonly [name: string, text: string, wide: string])[] = [
    ["Title", block.title, "wide"],
    ["Question", block.question, "wide"],
    ["Trial", block.trial, ""],
    ["Data", block.dataKind, block.dataKind.includes("invented") ? "invented" : ""],
    ["Units", block.units, ""],
    ["Date", block.date, ""],
    ["Source", block.source, "wide"],
    ["Checksum", shortChecksum(block.checksum), ""],
    ["Made with", `Trycut ${block.softwareVersion}`, ""],
  ];
  const shown = cells
    .filter(([, text]) => text !== "")
    .map(
      ([name, text, kind]) =>
        `<div${kind === "" ? "" : ` class="${kind}"`}><dt>${name}</dt><dd>${escapeHtml(text)}</dd></div>`,
    );
  return `<footer class="title-block"><dl>${shown.join("\n")}</dl></footer>`;
}

function shortChecksum(checksum: string): string {
  return checksum
    .split(", ")
    .map((one) => one.slice(0, checksumShown))
    .join(", ");
}
