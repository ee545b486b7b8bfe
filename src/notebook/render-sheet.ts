import type { TitleBlock } from "./entry.ts";
import { escapeHtml } from "./escape.ts";
import { renderTitleBlock } from "./render-title-block.ts";
import { sheetStyle } from "./sheet-style.ts";

/** One document in the shape of a drawing sheet. */
export interface Sheet {
  readonly title: string;
  /** Stands under the title; may be empty. */
  readonly question: string;
  /** HTML that is already safe: entries, or sections made of them. */
  readonly body: string;
  readonly titleBlock: TitleBlock;
  /** HTML after the sheet, such as a block of data; default none. */
  readonly after?: string;
}

/** Nothing is fetched and nothing runs: styles stand in the page, pictures only as data. */
const contentPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

/** The sheet as one self-contained document: frame, heading, body, title block (on every sheet in print). */
export function renderSheet({ title, question, body, titleBlock, after = "" }: Sheet): string {
  const lead = question === "" ? "" : `<p class="question-line">${escapeHtml(question)}</p>`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${contentPolicy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="Trycut ${escapeHtml(titleBlock.softwareVersion)}">
<title>${escapeHtml(title)}</title>
<style>
${sheetStyle}
</style>
</head>
<body>
<div class="sheet">
<header class="sheet-head">
<h1>${escapeHtml(title)}</h1>
${lead}
${renderInventedNotice(titleBlock.dataKind)}
</header>
<main class="entries">
${body}
</main>
${renderTitleBlock(titleBlock)}
</div>
${after}</body>
</html>
`;
}

/** Made-up readings are called so before anything else is read; empty for other data. */
export function renderInventedNotice(dataKind: string): string {
  if (!dataKind.includes("invented")) return "";
  const which = dataKind === "invented" ? "The readings on this page" : "Some of the readings on this page";
  return `<p class="invented-notice"><strong>Invented data.</strong> ${which} were made up to show the method. No machine cut them: take no setting from here.</p>`;
}
