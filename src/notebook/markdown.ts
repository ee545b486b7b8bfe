import { Marked, type Token, type Tokens } from "marked";
import { escapeHtml } from "./escape.ts";

/** Inside a page that has one h1 of its own, prose begins at h2. */
const highestLevel = 2;
const deepestLevel = 4;

/**
 * HTML of a piece of prose. Markdown as GitHub writes it (tables included), with three limits, because a page may carry text that
 * came from another shop: raw HTML is shown as the text it is; links go to http, https or relative addresses only, any other
 * becomes plain text; a picture is never loaded, its address becomes a link. Headings start at h2 and never skip a level.
 *
 * @example markdownHtml("Ra **fell**") // "<p>Ra <strong>fell</strong></p>\n"
 */
export function markdownHtml(markdown: string): string {
  let level = highestLevel - 1;
  const engine = new Marked({
    gfm: true,
    async: false,
    renderer: {
      html: ({ text, block }: Tokens.HTML | Tokens.Tag) =>
        block ? `<p>${escapeHtml(text.trim())}</p>\n` : escapeHtml(text),
      link({ href, title, tokens, text }: Tokens.Link) {
        const inside = tokens.length > 0 ? this.parser.parseInline(tokens) : escapeHtml(text);
        return linkHtml(href, title ?? "", inside);
      },
      image: ({ href, text }: Tokens.Image) => linkHtml(href, "", escapeHtml(text === "" ? "picture" : text)),
      checkbox: ({ checked }: Tokens.Checkbox) => (checked ? "☑ " : "☐ "),
      heading({ tokens, depth }: Tokens.Heading) {
        level = Math.min(depth + highestLevel - 1, level + 1, deepestLevel);
        return `<h${level}>${this.parser.parseInline(tokens)}</h${level}>\n`;
      },
      table(token: Tokens.Table) {
        return `<div class="table-scroll" tabindex="0" role="group" aria-label="table">${tableHtml(token, (cell) => this.parser.parseInline(cell))}</div>\n`;
      },
    },
  });
  return engine.parse(markdown, { async: false });
}

function tableHtml(token: Tokens.Table, inline: (tokens: Token[]) => string): string {
  const cell = (tag: "th" | "td", { tokens, align }: Tokens.TableCell): string => {
    const scope = tag === "th" ? ' scope="col"' : "";
    return `<${tag}${scope}${align === "right" ? ' class="number"' : ""}>${inline(tokens)}</${tag}>`;
  };
  const head = token.header.map((each) => cell("th", each)).join("");
  const rows = token.rows.map((row) => `<tr>${row.map((each) => cell("td", each)).join("")}</tr>`).join("");
  return `<table><thead><tr>${head}</tr></thead><tbody>${rows}</tbody></table>`;
}

function linkHtml(href: string, title: string, inside: string): string {
  if (!isAllowedAddress(href)) return inside;
  const hover = title === "" ? "" : ` title="${escapeHtml(title)}"`;
  return `<a href="${escapeHtml(href)}"${hover} rel="noopener noreferrer">${inside}</a>`;
}

/** http, https, or relative to the page. Control characters and spaces are dropped first, as browsers do when they read a scheme. */
function isAllowedAddress(href: string): boolean {
  // eslint-disable-next-line no-control-regex
  const bare = href.replace(/[\u0000-\u0020\u007f]/g, "");
  const scheme = /^([a-z][a-z0-9+.-]*):/i.exec(bare)?.[1]?.toLowerCase();
  return scheme === undefined || scheme === "http" || scheme === "https";
}
