import type { Figure } from "../figure/index.ts";
import { escapeHtml } from "./escape.ts";
import { tableHtml } from "./table-html.ts";

/**
 * A figure with its caption and, folded behind it, the table of its numbers. `place` is added to the ids inside the drawing, so that
 * one figure may stand twice on a page.
 */
export function renderFigure(
  figure: Figure,
  { caption, place }: { readonly caption: string; readonly place: string },
): string {
  const text = caption === "" ? "" : `<figcaption>${escapeHtml(caption)}</figcaption>`;
  const numbers = tableHtml(figure.table, { label: `Numbers of: ${figure.title}` });
  return `<figure class="entry figure-entry">
<div class="drawing">${withOwnIds(figure.svg, place)}${text}</div>
<details><summary>The numbers behind this figure</summary>${numbers}</details>
</figure>`;
}

/** The same drawing with `place` after each of its ids, and after each reference to one of them. */
export function withOwnIds(svg: string, place: string): string {
  const ids = new Set([...svg.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]));
  if (ids.size === 0) return svg;
  const renamed = (id: string): string => (ids.has(id) ? `${id}-${place}` : id);
  return svg
    .replace(
      /(\sid=")([^"]+)(")/g,
      (_, before: string, id: string, after: string) => before + renamed(id) + after,
    )
    .replace(
      /(\saria-(?:labelledby|describedby)=")([^"]+)(")/g,
      (_, before: string, list: string, after: string) => {
        return before + list.split(/\s+/).map(renamed).join(" ") + after;
      },
    )
    .replace(
      /(url\(#)([^)]+)(\))/g,
      (_, before: string, id: string, after: string) => before + renamed(id) + after,
    )
    .replace(
      /(href="#)([^"]+)(")/g,
      (_, before: string, id: string, after: string) => before + renamed(id) + after,
    );
}
