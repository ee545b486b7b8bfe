import { figureError } from "./error.ts";
import { palette } from "./palette.ts";

// Attributes whose whole text is numbers, and so may be rounded and must be finite.
const geometry = new Set([
  "cx",
  "cy",
  "d",
  "dx",
  "dy",
  "height",
  "points",
  "r",
  "rx",
  "ry",
  "transform",
  "width",
  "x",
  "x1",
  "x2",
  "y",
  "y1",
  "y2",
  "viewBox",
  "stroke-width",
]);

// Characters that XML 1.0 can't hold even when escaped, and halves of a pair.
const unwritable =
  // eslint-disable-next-line no-control-regex
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/gu;

/** Text made safe to stand between tags or in a quoted attribute, in HTML and in XML. */
export function escaped(text: string): string {
  return text
    .replace(unwritable, "\ufffd")
    .replace(/&/gu, "&amp;")
    .replace(/</gu, "&lt;")
    .replace(/>/gu, "&gt;")
    .replace(/"/gu, "&quot;");
}

/**
 * An element of a drawing as text that is both HTML and XML. Written out here and not by the document's own printer because a
 * figure keeps house rules: numbers with two decimals (a hundredth of a unit can't be seen, and files stay small), attributes in
 * alphabetical order (the same picture, the same text), no style sheets, classes, links or scripts (a page with a strict
 * content policy shows it), marks named by `data-part` where the drawing gave them a class `part-…`.
 */
export function serialised(element: Element): string {
  // Not tagName, which the document may write in capitals.
  const name = element.localName;
  if (name === "style" || name === "script" || name === "a") return "";
  const attributes = [...element.attributes]
    .map((attribute) => written(name, attribute.name, attribute.value))
    .filter((each) => each !== "")
    .sort();
  const inside = [...element.childNodes].map((child) => {
    if (child.nodeType === 1) return serialised(child as Element);
    return child.nodeType === 3 ? escaped(child.nodeValue ?? "") : "";
  });
  const open = [name, ...attributes].join(" ");
  const content = inside.join("");
  if (content !== "") return `<${open}>${content}</${name}>`;
  // An empty group or text draws nothing.
  return name === "g" || name === "text" || name === "tspan" ? "" : `<${open}/>`;
}

function written(element: string, name: string, value: string): string {
  if (name === "class") {
    const part = value.split(/\s+/u).find((each) => each.startsWith("part-"));
    return part === undefined ? "" : `data-part="${escaped(part.slice(5))}"`;
  }
  if (name === "style" || name.startsWith("aria-") || name.startsWith("on") || name.endsWith("href"))
    return "";
  if (!geometry.has(name)) return `${name}="${escaped(value === "currentColor" ? palette.ink : value)}"`;
  if (/NaN|Infinity|undefined|null/u.test(value)) {
    throw figureError({
      given: `<${element}> has ${name}="${value.slice(0, 60)}"`,
      expected: "finite numbers only",
      mend: "This is a fault of the figure, not of the trial: please report it with the trial's folder.",
    });
  }
  return `${name}="${escaped(rounded(value))}"`;
}

/** Each number with at most two decimals. */
function rounded(text: string): string {
  return text.replace(/-?\d*\.?\d+(?:e[-+]?\d+)?/giu, (number) => {
    const short = Number(Number(number).toFixed(2));
    return String(short === 0 ? 0 : short);
  });
}
