import { expect } from "vitest";
import type { Figure } from "../../src/figure/index.ts";
import { elementsOf, readSvg, textBoxes, type SvgNode, type TextBox } from "./read-svg.ts";

/** The claims that every figure keeps, whatever it shows. Returns its SVG, read. */
export function expectSound(figure: Figure): SvgNode {
  const { svg, title, description, table } = figure;
  const root = readSvg(svg);

  // One image with a name and a description of its own.
  expect(root.attributes["role"]).toBe("img");
  const ids = elementsOf(root).flatMap((each) => each.attributes["id"] ?? []);
  expect(new Set(ids).size).toBe(ids.length);
  expect(root.attributes["aria-labelledby"]?.split(" ")).toEqual(ids);
  expect(root.children.find((each) => each.name === "title")?.text).toBe(title);
  expect(root.children.find((each) => each.name === "desc")?.text).toBe(description);
  expect(title).not.toBe("");
  expect(description.length).toBeGreaterThan(20);

  // It scales, and depends on nothing outside.
  expect(root.attributes["width"]).toBe("100%");
  expect(root.attributes["viewBox"]).toMatch(/^0 0 640 \d+$/u);
  expect(elementsOf(root).map((each) => each.name)).not.toContain("script");
  expect(elementsOf(root).map((each) => each.name)).not.toContain("style");
  for (const { attributes } of elementsOf(root)) {
    expect(Object.keys(attributes).filter((key) => /^on|href$|^style$|^src$/u.test(key))).toEqual([]);
    for (const [key, value] of Object.entries(attributes))
      if (key !== "xmlns") expect(value).not.toMatch(/url\(|:\/\//u);
  }

  // No number that is none, on the picture or beside it.
  expect(`${svg} ${title} ${description}`).not.toMatch(/NaN|undefined|\bnull\b|Infinity|⚠/u);
  for (const row of table.rows) {
    expect(row.length).toBe(table.columns.length);
    for (const cell of row) if (typeof cell === "number") expect(Number.isFinite(cell)).toBe(true);
  }

  // Everything can be read: large enough, on the sheet, not written over other words.
  const boxes = textBoxes(root);
  const height = Number(root.attributes["viewBox"]?.split(" ")[3]);
  for (const box of boxes) {
    expect(box.size, box.text).toBeGreaterThanOrEqual(12);
    expect(box.left, box.text).toBeGreaterThanOrEqual(2);
    expect(box.right, box.text).toBeLessThanOrEqual(638);
    expect(box.top, box.text).toBeGreaterThanOrEqual(2);
    expect(box.bottom, box.text).toBeLessThanOrEqual(height - 2);
  }
  expect(overwritten(boxes)).toEqual([]);
  return root;
}

/** Pairs of texts that lie over each other by more than a sliver. */
function overwritten(boxes: readonly TextBox[]): readonly string[] {
  return boxes.flatMap((one, index) =>
    boxes.slice(index + 1).flatMap((other) => {
      const wide = Math.min(one.right, other.right) - Math.max(one.left, other.left);
      const high = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
      return wide > 1.5 && high > 1.5 ? [`"${one.text}" over "${other.text}"`] : [];
    }),
  );
}

/**
 * Compares a figure with its committed picture. Numbers in pictures have two decimals already; ids are left out, since they
 * follow from all the rest. Renew with `npx vitest run --project library tests/figure -u`, and look at what has changed.
 */
export async function expectPicture(figure: Figure, name: string): Promise<void> {
  const text = figure.svg.replace(/-[0-9a-f]{16}-/gu, "-id-").replace(/></gu, ">\n<");
  await expect(`${text}\n`).toMatchFileSnapshot(`pictures/${name}.svg`);
}
