import { expect, test } from "vitest";
import { sheetStyle } from "../../src/notebook/index.ts";

/** Relative luminance and contrast: WCAG 2.2, "contrast ratio" and "relative luminance". */
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

const grounds = ["#ffffff", "#fdf6ea", "#f1f5fb"]; // paper, caution, answer

test("contrast as computed here is 21 for black on white", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
});

test("every colour of lettering keeps 4.5 to 1 on every ground it may stand on (WCAG 2.2, 1.4.3)", () => {
  const colours = new Set(
    [...sheetStyle.matchAll(/(?<![-\w])color: (#[0-9a-f]{6})/g)].map((match) => match[1] ?? ""),
  );
  expect(colours.size).toBeGreaterThan(3);
  for (const colour of colours) {
    for (const ground of grounds)
      expect(contrast(colour, ground), `${colour} on ${ground}`).toBeGreaterThanOrEqual(4.5);
  }
});

test("every ground of lettering is one of those", () => {
  const used = [...sheetStyle.matchAll(/background-color: (#[0-9a-f]{6})/g)].map((match) => match[1]);
  // The desk behind the sheet, the rules between the cells of the title block, and the ground of code carry no coloured lettering.
  expect(new Set(used)).toEqual(new Set([...grounds, "#dfe4ea", "#17212b", "#f3f5f7"]));
});

test("what is pressed is at least 44 px high, for gloves and tablets", () => {
  for (const pressed of ["summary", ".ask input", ".contents a", "a.download"]) {
    const rule = new RegExp(`${pressed.replace(/[.]/g, "\\.")}[^{}]*\\{[^}]*min-height: 44px`);
    expect(sheetStyle, pressed).toMatch(rule);
  }
});

test("nothing is fetched: no address, no import, no font", () => {
  expect(sheetStyle).not.toMatch(/url\(|@import|@font-face|https?:/);
});
