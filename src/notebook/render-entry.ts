import type { Entry } from "./entry.ts";
import { escapeHtml } from "./escape.ts";
import { markdownHtml } from "./markdown.ts";
import { renderAsk } from "./render-ask.ts";
import { renderFigure } from "./render-figure.ts";
import { renderRemarks } from "./render-remarks.ts";
import { tableHtml } from "./table-html.ts";

/** How an entry is rendered. */
export interface RenderOptions {
  /** Place of the entry on its page, from 0: makes the ids of one page differ. */
  readonly index?: number;
  /** Questions as text that says what was used (default), or as controls to answer them with. */
  readonly asks?: "text" | "form";
}

/**
 * One entry as HTML, the same on the bench, in a notebook's file and in a published page. All text is escaped; the only HTML that
 * passes as it is are the figures' own SVG, which the figure floor has made safe.
 */
export function renderEntry(entry: Entry, { index = 0, asks = "text" }: RenderOptions = {}): string {
  switch (entry.kind) {
    case "prose":
      return `<div class="entry prose">${markdownHtml(entry.markdown)}</div>`;
    case "heading":
      return `<h2 class="entry heading">${escapeHtml(entry.text)}</h2>`;
    case "figure":
      return renderFigure(entry.figure, { caption: entry.caption, place: `entry-${index}` });
    case "table":
      return renderTable(entry);
    case "method":
      return `<p class="entry method"><span class="lead-in">Method.</span> ${escapeHtml(entry.text)}</p>`;
    case "remarks":
      return renderRemarks(entry.remarks);
    case "cautions":
      return renderCautions(entry.cautions);
    case "ask":
      return renderAsk(entry, { asks, place: `entry-${index}` });
    case "progress":
      return renderProgress(entry);
    case "error":
      return renderError(entry);
  }
}

function renderTable({ table, caption }: Extract<Entry, { kind: "table" }>): string {
  const text = caption === "" ? "" : `<figcaption>${escapeHtml(caption)}</figcaption>`;
  return `<figure class="entry table-entry">${text}${tableHtml(table, { label: caption === "" ? "table" : caption })}</figure>`;
}

function renderCautions(cautions: readonly string[]): string {
  if (cautions.length === 0) return "";
  const items = cautions.map((caution) => `<li>${escapeHtml(caution)}</li>`).join("\n");
  return `<section class="entry cautions" aria-label="Cautions"><p class="tag">Before you cut</p><ul>${items}</ul></section>`;
}

function renderProgress({ label, done, of }: Extract<Entry, { kind: "progress" }>): string {
  const count = `${done} of ${of}`;
  if (done >= of) return `<p class="entry progress done">${escapeHtml(label)}: ${count}</p>`;
  const bar = `<progress value="${done}" max="${of}" aria-label="${escapeHtml(label)}">${count}</progress>`;
  return `<p class="entry progress"><span>${escapeHtml(label)}</span>${bar}<span>${count}</span></p>`;
}

function renderError({ message, file, line }: Extract<Entry, { kind: "error" }>): string {
  const place = line === null ? escapeHtml(file) : `${escapeHtml(file)}, line ${line}`;
  return `<section class="entry fault" role="alert"><p class="tag">Stopped</p><p class="place">${place}</p><p class="message">${escapeHtml(message)}</p></section>`;
}
