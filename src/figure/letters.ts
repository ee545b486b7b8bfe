import { lettering, palette } from "./palette.ts";

/** A piece of lettering outside the scales: headings, titles, units. Places are in units of the drawing. */
export interface Letters {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly anchor: "start" | "middle" | "end";
  readonly size?: number;
  readonly weight?: "normal" | "bold";
  readonly colour?: string;
}

const svgSpace = "http://www.w3.org/2000/svg";

/** An SVG element with these attributes. */
export function element(
  document: Document,
  name: string,
  attributes: Readonly<Record<string, string | number>>,
  children: readonly (Element | string)[] = [],
): Element {
  const made = document.createElementNS(svgSpace, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  for (const child of children) made.append(child);
  return made;
}

export function lettered(document: Document, letters: Letters): Element {
  const { x, y, text, anchor, size = lettering.small, weight = "normal", colour = palette.ink } = letters;
  const attributes: Record<string, string | number> = {
    x,
    y,
    "text-anchor": anchor,
    "font-size": size,
    fill: colour,
  };
  if (weight === "bold") attributes["font-weight"] = "bold";
  return element(document, "text", attributes, [text]);
}
