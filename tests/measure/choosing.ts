import { chooseLayout } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { medianMs, type Measured } from "./timing.ts";

const factors: readonly Factor[] = ["feed", "speed", "depth", "lead", "overhang", "flow"].map((name) => ({
  kind: "quantity",
  name,
  unit: "mm",
  low: 1,
  high: 3,
  scale: "linear",
  change: "easy",
}));

/** Choosing among all layouts for 6 factors, for the quickest and the slowest question. */
export async function measureChoosing(): Promise<readonly Measured[]> {
  const lines: Measured[] = [];
  for (const [stake, passes] of [
    ["which-matter", 16],
    ["best-setting", 60],
  ] as const) {
    const ms = await medianMs(7, () => chooseLayout({ factors, stake, passes, sigma: 1, effect: 2 }));
    lines.push({
      what: `choosing among all layouts, 6 factors, ${passes} passes, ${stake}`,
      figure: `${ms.toFixed(0)} ms`,
      beside: "",
      aim: "≤ 300 ms",
      met: ms <= 300,
    });
  }
  return lines;
}
