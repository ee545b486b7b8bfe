import type { TitleBlock } from "./entry.ts";
import { escapeHtml } from "./escape.ts";

/** As many characters of a checksum as a person compares; the rest is in the page's details. */
const checksumShown = 12;

/** The ruled block at the foot of a sheet: always the same cells, as on a drawing; a dash where there is nothing to say. */
export function renderTitleBlock(block: TitleBlock): string {
  const cells: readonly (readonly [name: string, text: string, kind: string])[] = [
    ["Title", block.title, "wide title"],
    ["Question", block.question, "wide"],
    ["Source", block.source, "wide"],
    ["Trial", block.trial, ""],
    ["Data", block.dataKind, block.dataKind.includes("invented") ? "invented" : ""],
    ["Units", block.units, ""],
    ["Date", block.date, ""],
    ["Checksum", shortChecksum(block.checksum), ""],
    ["Made with", `Trycut ${block.softwareVersion}`, ""],
  ];
  const shown = cells.map(
    ([name, text, kind]) =>
      `<div${kind === "" ? "" : ` class="${kind}"`}><dt>${name}</dt><dd>${escapeHtml(text === "" ? "–" : text)}</dd></div>`,
  );
  return `<footer class="title-block"><dl>${shown.join("\n")}</dl></footer>`;
}

function shortChecksum(checksum: string): string {
  return checksum
    .split(", ")
    .map((one) => one.slice(0, checksumShown))
    .join(", ");
}
