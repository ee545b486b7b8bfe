import { textWidth } from "../../src/figure/text-width.ts";

/** An element of a figure's SVG, read back for the tests. */
export interface SvgNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgNode[];
  readonly text: string;
}

/** Reads an SVG as strictly as XML asks: every tag closed in turn, every attribute quoted, only the five entities. */
export function readSvg(svg: string): SvgNode {
  type Open = { name: string; attributes: Record<string, string>; children: SvgNode[]; text: string };
  const root: Open = { name: "", attributes: {}, children: [], text: "" };
  const stack: Open[] = [root];
  let rest = svg;
  while (rest !== "") {
    const top = stack.at(-1)!;
    const tag = /^<(\/?)([a-z][A-Za-z]*)((?: [A-Za-z][\w:-]*="[^"<]*")*)(\/?)>/u.exec(rest);
    if (tag === null) {
      const text = /^[^<]+/u.exec(rest)?.[0];
      if (text === undefined) throw new Error(`not well-formed at: ${rest.slice(0, 80)}`);
      top.text += unescaped(text);
      rest = rest.slice(text.length);
      continue;
    }
    const [whole, closing, name = "", attributeText = "", selfClosing] = tag;
    rest = rest.slice(whole.length);
    if (closing === "/") {
      if (top.name !== name) throw new Error(`</${name}> closes <${top.name}>`);
      stack.pop();
      continue;
    }
    const attributes: Record<string, string> = {};
    for (const [, key = "", value = ""] of attributeText.matchAll(/ ([\w:-]+)="([^"]*)"/gu)) {
      if (key in attributes) throw new Error(`${key} twice on <${name}>`);
      attributes[key] = unescaped(value);
    }
    const made: Open = { name, attributes, children: [], text: "" };
    top.children.push(made);
    if (selfClosing !== "/") stack.push(made);
  }
  if (stack.length !== 1) throw new Error(`<${stack.at(-1)!.name}> is not closed`);
  const [only, ...more] = root.children;
  if (only === undefined || more.length > 0) throw new Error("not one root");
  return only;
}

function unescaped(text: string): string {
  if (/&(?!amp;|lt;|gt;|quot;|#39;)/u.test(text)) throw new Error(`unknown entity in: ${text.slice(0, 80)}`);
  return text
    .replace(/&lt;/gu, "<")
    .replace(/&gt;/gu, ">")
    .replace(/&quot;/gu, '"')
    .replace(/&amp;/gu, "&");
}

/** All elements in document order. */
export function elementsOf(node: SvgNode): readonly SvgNode[] {
  return [node, ...node.children.flatMap(elementsOf)];
}

/** The elements that draw one part of a figure: those inside groups named so, or named so themselves. */
export function partOf(node: SvgNode, part: string): readonly SvgNode[] {
  return elementsOf(node)
    .filter((each) => each.attributes["data-part"] === part)
    .flatMap((each) => (each.name === "g" ? each.children : [each]));
}

export interface TextBox {
  readonly text: string;
  readonly size: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Every line of text with about the room it takes, by the widths that figures are laid out with. */
export function textBoxes(root: SvgNode): readonly TextBox[] {
  const boxes: TextBox[] = [];
  const walk = (node: SvgNode, at: { x: number; y: number; size: number; anchor: string }): void => {
    const moved = /translate\(([-\d.]+),([-\d.]+)\)/u.exec(node.attributes["transform"] ?? "");
    const here = {
      x: at.x + Number(moved?.[1] ?? 0),
      y: at.y + Number(moved?.[2] ?? 0),
      size: Number(node.attributes["font-size"] ?? at.size),
      anchor: node.attributes["text-anchor"] ?? at.anchor,
    };
    if ((node.name === "text" || node.name === "tspan") && node.text !== "") {
      const width = textWidth(
        node.text,
        here.size,
        node.attributes["font-weight"] === "bold" ? "bold" : "normal",
      );
      const x = here.x + length(node.attributes["x"], here.size);
      const base = here.y + length(node.attributes["y"], here.size);
      const left = here.anchor === "middle" ? x - width / 2 : here.anchor === "end" ? x - width : x;
      // Capitals and figures rise about 0.72 of the size above the line, tails fall about 0.2 below it.
      boxes.push({
        text: node.text,
        size: here.size,
        left,
        right: left + width,
        top: base - 0.72 * here.size,
        bottom: base + 0.2 * here.size,
      });
    }
    for (const child of node.children) walk(child, here);
  };
  walk(root, { x: 0, y: 0, size: 16, anchor: "start" });
  return boxes;
}

function length(text: string | undefined, size: number): number {
  if (text === undefined) return 0;
  return text.endsWith("em") ? Number(text.slice(0, -2)) * size : Number(text);
}
