import { escapeHtml, renderEntry } from "../notebook/index.ts";
import type { Part, Section } from "./part.ts";

/** The sections of a page with the list of them at the head; a section without parts is left out. */
export function renderSections(sections: readonly Section[]): string {
  const shown = sections.filter((section) => section.parts.length > 0);
  let index = 0;
  const next = (): number => index++;
  const links = shown.map(({ id, title }) => `<li><a href="#${id}">${escapeHtml(title)}</a></li>`).join("\n");
  const contents = `<nav class="contents" aria-label="On this sheet"><ul>\n${links}\n</ul></nav>`;
  const bodies = shown.map(
    ({ id, title, parts }) =>
      `<section class="part" id="${id}">\n<h2>${escapeHtml(title)}</h2>\n${parts.map((part) => renderPart(part, next)).join("\n")}\n</section>`,
  );
  return [contents, ...bodies].join("\n");
}

function renderPart(part: Part, next: () => number): string {
  switch (part.kind) {
    case "text":
      return `<p class="entry">${escapeHtml(part.text)}</p>`;
    case "quiet":
      return `<p class="entry quiet">${escapeHtml(part.text)}</p>`;
    case "sub-heading":
      return `<h3 class="entry">${escapeHtml(part.text)}</h3>`;
    case "list":
      return `<ul class="entry">${part.items.map((item) => `<li>${escapeHtml(item)}</li>`).join("\n")}</ul>`;
    case "results":
      return `<ul class="entry results">${part.sentences.map((text) => `<li>${escapeHtml(text)}</li>`).join("\n")}</ul>`;
    case "warning":
      return `<ul class="entry remarks"><li class="remark caution"><p class="tag">Caution</p><div><p class="what">${escapeHtml(part.title)}</p>${part.texts.map((text) => `<p class="evidence">${escapeHtml(text)}</p>`).join("\n")}</div></li></ul>`;
    case "answer":
      return `<div class="entry answer-block"><p class="tag">${escapeHtml(part.tag)}</p>${part.texts.map((text) => `<p>${escapeHtml(text)}</p>`).join("\n")}</div>`;
    case "facts":
      return `<dl class="entry facts">${part.facts.map(([name, text]) => `<div><dt>${escapeHtml(name)}</dt><dd>${escapeHtml(text)}</dd></div>`).join("\n")}</dl>`;
    case "folded":
      return `<details class="entry"><summary>${escapeHtml(part.summary)}</summary>\n${part.parts.map((inner) => renderPart(inner, next)).join("\n")}\n</details>`;
    case "download":
      return `<p class="entry"><a class="download" download="${escapeHtml(part.name)}" href="data:application/zip;base64,${Buffer.from(part.zip).toString("base64")}">${escapeHtml(part.text)}</a></p>`;
    default:
      return renderEntry(part, { index: next() });
  }
}
