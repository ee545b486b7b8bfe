import type { Drift } from "./drift.ts";
import type { FigureTable } from "./figure.ts";
import { countText, readingsOf, runMean } from "./fitted-rows.ts";
import { roundedText } from "./number-text.ts";
import { heading, withUnit, type Shown } from "./shown.ts";
import { extent } from "../numerics/index.ts";
import type { Fit, FittedRow } from "../model/index.ts";

/** The text alternative of an order figure. */
export function orderText(
  fit: Fit,
  parts: {
    readonly title: string;
    readonly drift: Drift | null;
    readonly rows: readonly FittedRow[];
    readonly anchors: ReadonlySet<number>;
    readonly thinning: string;
    readonly shown: Shown;
    readonly form: "as-read" | "adjusted";
  },
): string {
  const { rows, drift, shown } = parts;
  const [low, high] = extent(rows.flatMap((row) => readingsOf(row, fit)).map(shown.value));
  const blocks = new Set(rows.map((row) => row.block)).size;
  const anchored = rows.filter((row) => parts.anchors.has(row.run)).length;
  return [
    `${parts.title}: ${countText(fit)}, from ${roundedText(low)} to ${withUnit(roundedText(high), shown.unit)}.`,
    parts.form === "adjusted"
      ? "What the fit says the factors did is taken out of the readings as drawn."
      : "",
    blocks > 1 ? `They were cut in ${blocks} blocks.` : "",
    anchored > 0 ? `${anchored} anchor runs at one setting are joined.` : "",
    drift === null ? "" : "reason" in drift ? `No drift line: ${drift.reason}` : drift.text,
    parts.thinning,
  ]
    .filter((each) => each !== "")
    .join(" ");
}

/** One row a run, in cutting order. */
export function orderTable(
  fit: Fit,
  rows: readonly FittedRow[],
  options: { readonly anchors: ReadonlySet<number>; readonly shown: Shown },
): FigureTable {
  const { shown, anchors } = options;
  return {
    columns: ["place", "run", "block", heading(fit.response.name, shown.unit), "readings", "anchor"],
    rows: rows.map((row) => [
      row.order,
      row.run,
      row.block,
      shown.value(runMean(row, fit)),
      row.readings,
      anchors.has(row.run) ? "yes" : "no",
    ]),
  };
}
