import { differenceUnit } from "../units/index.ts";
import { quantityAxis } from "./axis.ts";
import { rowMarks } from "./effect-marks.ts";
import { rowLetters, sentenceWidth } from "./effect-rows.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { settled, type FigureOptions } from "./options.ts";
import { pairAxis, pairRows } from "./pair-rows.ts";
import { heading, shownIn } from "./shown.ts";
import { sheet } from "./sheet.ts";
import { isInterval, type Comparison } from "../model/index.ts";

/**
 * Pairs of levels, each with its sentence and the interval that holds together with all the others, against no difference (×1 on a scale of ratios). Use it as the main
 * result of a comparison. A filled blue mark: clear of no difference; an open grey one: not. One row a pair in the table.
 * Example: `comparisonFigure(compareLevels(trial, { factor: "edge" }))`.
 */
export function comparisonFigure(comparison: Comparison, options: FigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const { factor, response, pairs, logScale: ratio, confidence } = comparison;
  const none = ratio ? 1 : 0;
  const drawn = pairs.map((pair) => ({
    ...pair,
    clear: isInterval(pair.value) && (pair.value.low > none || pair.value.high < none),
    alone: true,
  }));
  const rows = pairRows(drawn, { factor, unit: response.unit, display });
  const height = 44 + rows.reduce((sum, row) => sum + row.height, 0) + 52;
  const on = framed(
    pairAxis(rows, { response, ratio, display }),
    quantityAxis({ name: "", unit: "", values: [0, 1] }),
    { height, left: sentenceWidth + 38, extraRight: 6, top: 36, upright: "bare" },
  );
  const title = options.title ?? `${response.name} by ${factor}`;
  const said = confidenceText(confidence);
  const unit = ratio ? "ratio" : differenceUnit(shownIn(response.unit, display).unit);
  const runs = comparison.levels.reduce((sum, level) => sum + level.runs, 0);
  return sheet(document, {
    kind: "comparison",
    title,
    note: `${said} intervals${pairs.length > 1 ? ", all together" : ""}; ${runs} runs`,
    description: `${title}, ${runs} runs. ${pairs.map(({ sentence }) => sentence).join(" ")}`,
    table: {
      columns: [
        "from",
        "to",
        heading(ratio ? `ratio of ${response.name}` : `difference of ${response.name}`, unit),
        heading(`${said} low`, unit),
        heading(`${said} high`, unit),
        "p",
        "in words",
      ],
      rows: rows.map(({ effect, estimate, low, high }) => [
        effect.from,
        effect.to,
        estimate,
        low,
        high,
        effect.p,
        effect.sentence,
      ]),
    },
    height,
    drawings: [{ ...on.options, marks: [...on.under, ...rowMarks(rows, on, none), outline()] }],
    letters: [...on.letters, ...rows.flatMap(rowLetters)],
  });
}
