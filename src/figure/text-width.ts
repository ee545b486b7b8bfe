// Advance widths of Helvetica in thousandths of the size, characters 32 to 126 (the font's published metrics; Arial and
// Liberation Sans share them). A server has no screen to measure on, and a figure must come out the same everywhere.
const asciiWidths = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
  556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
  500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
  556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
  278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

const otherWidths: Readonly<Record<string, number>> = {
  µ: 576,
  "×": 584,
  "÷": 584,
  "−": 584,
  "±": 584,
  "°": 400,
  "²": 333,
  "³": 333,
  "·": 278,
  "–": 556,
  "…": 1000,
  "→": 1000,
  "\u00a0": 278,
  "\u202f": 200,
  "’": 222,
};

function characterWidth(character: string): number {
  const code = character.codePointAt(0) ?? 0;
  const ascii = asciiWidths[code - 32];
  if (ascii !== undefined) return ascii;
  const other = otherWidths[character];
  if (other !== undefined) return other;
  return code >= 0x1100 ? 1000 : 600;
}

/** How wide a line of text is, in the unit of `size`; within some 5 % for the usual sans-serif faces. */
export function textWidth(text: string, size: number, weight: "normal" | "bold" = "normal"): number {
  let thousandths = 0;
  for (const character of text) thousandths += characterWidth(character);
  return (thousandths / 1000) * size * (weight === "bold" ? 1.07 : 1);
}

/** The text cut to a width, with an ellipsis where something was lost. */
export function shortened(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text;
  const characters = [...text];
  while (characters.length > 1 && textWidth(`${characters.join("").trimEnd()}…`, size) > width)
    characters.pop();
  return `${characters.join("").trimEnd()}…`;
}

/** Lines no wider than `width`, broken at spaces; a word that is too long by itself is shortened; at most `most` lines. */
export function wrapped(
  text: string,
  width: number,
  size: number,
  options: { most?: number; weight?: "normal" | "bold" } = {},
): readonly string[] {
  const { most = Infinity, weight = "normal" } = options;
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/u).filter((part) => part !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line !== "" && textWidth(longer, size, weight) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  if (line !== "") lines.push(line);
  if (lines.length > most) lines.splice(most - 1, Infinity, lines.slice(most - 1).join(" "));
  return lines.map((each) => shortened(each, weight === "bold" ? width / 1.07 : width, size));
}
