// The page that notebooks write on, running a notebook, rendering it.
export { notebook, isNotebook } from "./notebook.ts";
export type { Notebook } from "./definition.ts";
export { openTrial } from "./open-trial.ts";
export type { NotebookPage, OnEntry } from "./page.ts";
export type { Answers, Ask, AskedQuantity } from "./ask.ts";
export type { ColumnTableLike, TableSource } from "./as-table.ts";
export type { AskEntry, Entry, Page, TitleBlock } from "./entry.ts";

export { createRunner } from "./runner.ts";
export type { RunOptions, Runner } from "./runner.ts";
export { watchPage } from "./watch-page.ts";
export type { WatchedPage, WatchOptions } from "./watch-page.ts";

export { renderEntry } from "./render-entry.ts";
export type { RenderOptions } from "./render-entry.ts";
export { renderPage } from "./render-page.ts";
export { renderSheet } from "./render-sheet.ts";
export type { Sheet } from "./render-sheet.ts";
export { renderInventedNotice } from "./render-sheet.ts";
export { renderTitleBlock } from "./render-title-block.ts";
export { entryStyle, sheetStyle } from "./sheet-style.ts";
export { escapeHtml } from "./escape.ts";
export { markdownHtml } from "./markdown.ts";
export { tableHtml } from "./table-html.ts";
export { writeWhole } from "./write-whole.ts";
export { softwareVersion } from "./version.ts";
export { isoDate } from "./title-block.ts";
export { NotebookError } from "./error.ts";
