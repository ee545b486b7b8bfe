import type { FigureTable } from "../figure/index.ts";
import type { AnalysisRow, Fit } from "../model/index.ts";
import { renderEntry } from "../notebook/index.ts";
import { formatNumber, pText } from "../units/index.ts";

/** A table as the HTML of a published page. */
export function tableHtmlOf(table: FigureTable, caption: string): string {
  return renderEntry({ kind: "table", table, caption });
}

const digits = (value: number | null, count = 4) =>
  value === null ? "" : formatNumber(value, { digits: count });

function pOrNothing(p: number | null): string {
  return p === null ? "" : pText(p);
}

function analysisTable(rows: readonly AnalysisRow[]): FigureTable {
  const judgedOn = rows.some(({ denominatorDf }) => denominatorDf !== undefined);
  return {
    columns: [
      "Source",
      "df",
      "Sum of squares",
      "Mean square",
      "F",
      ...(judgedOn ? ["judged on df"] : []),
      "p",
    ],
    rows: rows.map((row) => [
      row.source,
      row.df,
      digits(row.sumOfSquares),
      digits(row.meanSquare),
      digits(row.f, 3),
      ...(judgedOn ? [digits(row.denominatorDf ?? null, 3)] : []),
      pOrNothing(row.p),
    ]),
  };
}

function coefficientTable(fit: Fit): FigureTable {
  const percent = `${formatNumber(100 * fit.confidence)} %`;
  return {
    columns: ["Term", "Estimate", "Standard error", `${percent} from`, `${percent} to`, "t", "df", "p"],
    rows: fit.coefficients.map((each) => [
      each.label,
      digits(each.estimate),
      digits(each.standardError, 3),
      digits(each.low),
      digits(each.high),
      digits(each.t, 3),
      Number.isInteger(each.df) ? each.df : digits(each.df, 3),
      pOrNothing(each.p),
    ]),
  };
}

/** The tables behind a fit, for who wants to check it. */
export function fitTables(fit: Fit): readonly string[] {
  const scale = fit.logScale ? ", of logarithms" : "";
  return [
    tableHtmlOf(
      coefficientTable(fit),
      `The model's terms${fit.logScale ? ": exponents, of logarithms" : ""}`,
    ),
    tableHtmlOf(analysisTable(fit.analysis), `Analysis of variance, each term after those before it${scale}`),
    tableHtmlOf(analysisTable(fit.analysisLast), `Analysis of variance, each term last${scale}`),
  ];
}
