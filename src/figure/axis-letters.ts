import type { Axis, Ruler } from "./axis.ts";
import type { Frame } from "./frame-box.ts";
import type { Letters } from "./letters.ts";
import { lettering, palette } from "./palette.ts";
import { shortened, textWidth } from "./text-width.ts";

/** The name under the frame, the unit after the last tick's number; the unit joins the name where it would not fit there. */
export function acrossLetters(x: Axis, ruler: Ruler, frame: Frame): Letters[] {
  const letters: Letters[] = [];
  const low = unitAfterLastTick(x.ticks, x.texts, x.unit, ruler, frame);
  if (low !== null) letters.push({ ...low, y: frame.bottom + 17.5 });
  const name = low === null && x.unit !== "" ? `${x.name}, ${x.unit}` : x.name;
  const middle = (frame.left + frame.right) / 2;
  letters.push({
    x: middle,
    y: frame.bottom + 39,
    text: shortened(name, 420, lettering.usual),
    anchor: "middle",
    size: lettering.usual,
  });
  if (x.second !== null) {
    const top = unitAfterLastTick(x.second.ticks, x.second.texts, x.second.unit, ruler, frame);
    const y = frame.top - 9;
    letters.push(
      top === null
        ? {
            x: frame.right,
            y: y - 17,
            text: x.second.unit,
            anchor: "end",
            size: lettering.small,
            colour: palette.quiet,
          }
        : { ...top, y },
    );
  }
  return letters;
}

function unitAfterLastTick(
  ticks: readonly number[],
  texts: readonly string[],
  unit: string,
  ruler: Ruler,
  frame: Frame,
): Omit<Letters, "y"> | null {
  const last = ticks.length - 1;
  if (unit === "" || last < 0) return null;
  const from = ruler.at(ticks[last]) + textWidth(texts[last], lettering.small) / 2 + 4;
  if (from + textWidth(unit, lettering.small) > frame.width - 12) return null;
  return { x: from, text: unit, anchor: "start", size: lettering.small };
}

/** The name and unit over the frame's left side, the second scale's unit over its right. */
export function upLetters(y: Axis, frame: Frame): Letters[] {
  const name = y.unit === "" ? y.name : `${y.name}, ${y.unit}`;
  const height = frame.top - (frame.top > 50 ? 34 : 13);
  const letters: Letters[] = [
    { x: 16, y: height, text: shortened(name, 400, lettering.usual), anchor: "start", size: lettering.usual },
  ];
  if (y.second !== null) {
    letters.push({
      x: frame.width - 16,
      y: height,
      text: y.second.unit,
      anchor: "end",
      size: lettering.small,
      colour: palette.quiet,
    });
  }
  return letters;
}
