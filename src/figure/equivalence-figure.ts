import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { rowMarks } from "./effect-marks.ts";
import { rowLetters, sentenceWidth } from "./effect-rows.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { settled, type FigureOptions } from "./options.ts";
import { differenceIn, pairAxis, pairRows } from "./pair-rows.ts";
import { palette } from "./palette.ts";
import { heading, shownIn, withUnit } from "./shown.ts";
import { sheet } from "./sheet.ts";
import type { Equivalence } from "../model/index.ts";
import { differenceUnit, formatNumber } from "../units/index.ts";

/**
 * Pairs of levels with the interval of their two one-sided tests over the band of the margin. Use it to show that levels are alike for all that matters: an interval inside the
 * band is a filled blue mark, one that reaches over its edge an open grey one (can't be told), one outside an amber one. One row a pair in the table.
 * Example: `equivalenceFigure(equivalence(trial, { factor: "edge", margin: 0.1 }))`.
 */
export function equivalenceFigure(result: Equivalence, options: FigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const { factor, response, pairs, logScale: ratio, confidence, margin } = result;
  const drawn = pairs.map((pair) => ({
    ...pair,
    clear: pair.verdict === "within",
    alone: pair.verdict !== "beyond",
  }));
  const rows = pairRows(drawn, { factor, unit: response.unit, display });
  const ends = ratio
    ? ([1 / margin, margin] as const)
    : ([-1, 1].map((side) => differenceIn(response.unit, display)(side * margin)) as [number, number]); // two ends
  const height = 44 + rows.reduce((sum, row) => sum + row.height, 0) + 52;
  const on = framed(
    pairAxis(rows, { response, ratio, display, also: ends }),
    quantityAxis({ name: "", unit: "", values: [0, 1] }),
    { height, left: sentenceWidth + 38, extraRight: 6, top: 36, upright: "bare" },
  );
  const unit = ratio ? "ratio" : differenceUnit(shownIn(response.unit, display).unit);
  const size = ratio ? `a factor of ${formatNumber(margin)}` : withUnit(formatNumber(ends[1]), unit);
  const title = options.title ?? `${response.name} by ${factor}: alike within ${size}?`;
  const said = confidenceText(confidence);
  return sheet(document, {
    kind: "equivalence",
    title,
    note: `shaded: no difference that matters; sure to ${said}`,
    description: `${title} ${pairs.map(({ sentence }) => sentence).join(" ")}`,
    table: {
      columns: [
        "from",
        "to",
        heading(ratio ? `ratio of ${response.name}` : `difference of ${response.name}`, unit),
        heading("low", unit),
        heading("high", unit),
        heading("margin", unit),
        "verdict",
        "p",
        "in words",
      ],
      rows: rows.map(({ effect, estimate, low, high }, i) => [
        effect.from,
        effect.to,
        estimate,
        low,
        high,
        ends[1],
        pairs[i].verdict === "untold" ? "can’t be told" : pairs[i].verdict,
        effect.p,
        effect.sentence,
      ]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          Plot.rectX([ends], { x1: "0", x2: "1", fill: palette.hair, className: "part-margin" }),
          ...on.under,
          Plot.ruleX([...ends], {
            stroke: palette.ink,
            strokeDasharray: "6 4",
            className: "part-margin-ends",
          }),
          ...rowMarks(rows, on, ratio ? 1 : 0),
          outline(),
        ],
      },
    ],
    letters: [...on.letters, ...rows.flatMap(rowLetters)],
  });
}
