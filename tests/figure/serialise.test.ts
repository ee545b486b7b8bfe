import { expect, test } from "vitest";
import { blankDocument } from "../../src/figure/index.ts";
import { element } from "../../src/figure/letters.ts";
import { escaped, serialised } from "../../src/figure/serialise.ts";

const document = blankDocument();

test("text and attributes are escaped for HTML and XML", () => {
  const text = element(document, "text", { fill: `"<&>` }, [`<script>alert("1")</script> & Co`]);
  expect(serialised(text)).toBe(
    `<text fill="&quot;&lt;&amp;&gt;">&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; Co</text>`,
  );
});

test("characters that XML can't hold are replaced", () => {
  expect(escaped("a\u0000b\u001fc\ud800d\ufffe")).toBe("a\ufffdb\ufffdc\ufffdd\ufffd");
  expect(escaped("tab\tline\n😀")).toBe("tab\tline\n😀");
});

test("numbers keep two decimals, units of text keep theirs", () => {
  const path = element(document, "path", {
    d: "M0.123456,10.999L-3.00001,1e-14",
    transform: "translate(95.00000000000001,2)",
  });
  expect(serialised(path)).toBe(`<path d="M0.12,11L-3,0" transform="translate(95,2)"/>`);
  expect(serialised(element(document, "text", { y: "0.32em" }, ["x"]))).toBe(`<text y="0.32em">x</text>`);
});

test("attributes come in alphabetical order whatever the order they were set in", () => {
  const one = element(document, "rect", { width: 2, x: 1 });
  const other = element(document, "rect", { x: 1, width: 2 });
  expect(serialised(one)).toBe(serialised(other));
});

test("style sheets, scripts, links, handlers and styles are left out", () => {
  const group = element(document, "g", { onclick: "x()", style: "color:red", "xlink:href": "#a" }, [
    element(document, "style", {}, ["* { color: red }"]),
    element(document, "script", {}, ["x()"]),
    element(document, "a", { href: "https://example.com" }, [element(document, "text", {}, ["gone"])]),
    element(document, "text", {}, ["kept"]),
  ]);
  expect(serialised(group)).toBe("<g><text>kept</text></g>");
});

test("a class part-… becomes data-part, other classes go", () => {
  expect(serialised(element(document, "path", { class: "plot-x part-band", d: "M0,0" }))).toBe(
    `<path d="M0,0" data-part="band"/>`,
  );
});

test("a number that is not finite is refused by attribute", () => {
  expect(() => serialised(element(document, "circle", { cx: Number.NaN, cy: 1 }))).toThrow(
    `<circle> has cx="NaN": expected finite numbers only. This is a fault of the figure, not of the trial: please report it with the trial's folder.`,
  );
});
