import type { Page } from "./entry.ts";
import { renderEntry } from "./render-entry.ts";
import { renderSheet } from "./render-sheet.ts";

/**
 * A page as one HTML document that needs nothing else: no network, no script, its style and figures inside.
 *
 * @example await writeFile("seal-face.html", renderPage(page))
 */
export function renderPage(page: Page): string {
  const body = page.entries.map((entry, index) => renderEntry(entry, { index })).join("\n");
  return renderSheet({
    title: page.title,
    question: page.titleBlock.question,
    body,
    titleBlock: page.titleBlock,
  });
}
