import fc from "fast-check";
import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { markdownHtml } from "../../src/notebook/markdown.ts";

describe("prose", () => {
  test("is Markdown, tables included", () => {
    expect(markdownHtml("Ra **fell**")).toBe("<p>Ra <strong>fell</strong></p>\n");
    expect(markdownHtml("| a | b |\n|---|--:|\n| x | 1 |")).toContain('<td class="number">1</td>');
  });

  test("shows raw HTML as the text it is", () => {
    expect(markdownHtml('a <img src=x onerror="alert(1)"> b')).toBe(
      "<p>a &lt;img src=x onerror=&quot;alert(1)&quot;&gt; b</p>\n",
    );
    expect(markdownHtml("<script>alert(1)</script>")).toBe("<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>\n");
  });

  test.each([
    "javascript:alert(1)",
    "JaVaScRiPt:alert(1)",
    "data:text/html,x",
    "vbscript:x",
    "file:///etc/passwd",
    "mailto:a@b.c",
  ])("makes no link of %s", (address) => {
    expect(parsed(`[text](<${address}>)`).querySelectorAll("a")).toHaveLength(0);
  });

  test("links to http, https and relative addresses", () => {
    for (const address of [
      "https://x.y/?a=1&b=2",
      "http://x.y",
      "../part.html#a",
      "#a",
      "finding/index.html",
    ]) {
      expect(parsed(`[text](${address})`).querySelector("a")?.getAttribute("href")).toBe(address);
    }
  });

  test("loads no picture: its address becomes a link", () => {
    const document = parsed("![a face](https://x.y/a.png) ![](javascript:x)");
    expect(document.querySelectorAll("img")).toHaveLength(0);
    expect(document.querySelector("a")?.textContent).toBe("a face");
  });

  test("starts its headings at h2 and skips no level", () => {
    const levels = [...parsed("### A\n\n# B\n\n#### C\n\n###### D").querySelectorAll("h1,h2,h3,h4,h5,h6")];
    expect(levels.map((heading) => heading.tagName)).toEqual(["H2", "H2", "H3", "H4"]);
  });

  test("of any text holds no element that could run, load or frame something", () => {
    const piece = fc.constantFrom(
      "<script>",
      "</p>",
      "<img src=x onerror=1>",
      "[a](javascript:1)",
      "![b](http://e/x)",
      "`<i>`",
      "```\n<b>\n```",
      "<svg onload=1>",
      "# h",
      "- x",
      "> q",
      "|a|\n|-|\n|<u>|",
      "<!-- x -->",
      "&lt;script&gt;",
      '"',
      "'",
      "\n\n",
      "<a href=javascript:1>",
      "[c](<java&#10;script:alert(1)>)",
      "[d](javascript&colon;alert(1))",
      "[e](\\javascript:1)",
      "[f]: javascript:1\n\n[f]",
      "<javascript:1>",
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(piece, fc.string()), { maxLength: 12 }), (pieces) => {
        const document = parsed(pieces.join(" "));
        for (const element of document.querySelectorAll("*")) {
          if (
            /^(?:SCRIPT|IMG|SVG|IFRAME|OBJECT|EMBED|LINK|STYLE|FORM|INPUT|META|BASE)$/i.test(element.tagName)
          )
            return false;
          const href = element.getAttribute("href");
          if (href !== null && !/^https?:$/.test(new URL(href, "https://here.example/").protocol))
            return false;
          if ([...element.attributes].some((attribute) => attribute.name.startsWith("on"))) return false;
        }
        return true;
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });
});

function parsed(markdown: string): Document {
  return parseHTML(`<!doctype html><html><body>${markdownHtml(markdown)}</body></html>`).document;
}
