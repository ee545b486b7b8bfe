import { readFileSync } from "node:fs";

function read(file: string): string {
  return readFileSync(new URL(file, import.meta.url), "utf8");
}

/** The look of entries: every rule stands under `.entries`, so that a page of another look can hold them. */
export const entryStyle: string = read("./style/entries.css");

/** The whole look of a drawing sheet: ground, frame, heading, entries, title block, print. */
export const sheetStyle: string = ["ground", "frame", "title-block", "entries", "finding", "print"]
  .map((part) => read(`./style/${part}.css`))
  .join("\n");
