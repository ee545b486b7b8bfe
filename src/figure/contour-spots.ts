import * as Plot from "@observablehq/plot";
import type { Fit } from "../model/index.ts";
import type { QuantityFactor, Setting } from "../trial/index.ts";
import { palette } from "./palette.ts";
import { shownIn, type Display } from "./shown.ts";

/** The runs as dots, each place once, and the marked settings as a diamond. */
export function spots(
  fits: readonly Fit[],
  {
    along,
    up,
    mark,
  }: {
    readonly along: QuantityFactor;
    readonly up: QuantityFactor;
    readonly mark: Readonly<Record<string, Setting>> | undefined;
  },
  display: Display,
): readonly Plot.Markish[] {
  const x = shownIn(along.unit, display).value;
  const y = shownIn(up.unit, display).value;
  const spot = (settings: Readonly<Record<string, Setting>>) => ({
    x: x(Number(settings[along.name])),
    y: y(Number(settings[up.name])),
  });
  const runs = new Map<string, { x: number; y: number }>();
  for (const row of fits[0]?.rows ?? []) {
    const one = spot(row.settings);
    runs.set(`${one.x} ${one.y}`, one);
  }
  const marked = mark === undefined ? [] : [spot(mark)];
  return [
    Plot.dot([...runs.values()], {
      x: "x",
      y: "y",
      r: 3.4,
      fill: palette.paper,
      stroke: palette.ink,
      strokeWidth: 1.2,
      className: "part-runs",
    }),
    ...(marked.length === 0
      ? []
      : [
          Plot.dot(marked, {
            x: "x",
            y: "y",
            r: 7,
            symbol: "diamond2",
            fill: palette.accent,
            stroke: palette.paper,
            strokeWidth: 1.4,
            className: "part-recipe",
          }),
        ]),
  ];
}
