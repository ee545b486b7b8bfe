import { differenceUnit } from "../../units/index.ts";
import type { AnalysisRow, Fit } from "../../model/index.ts";
import type { Part } from "../part.ts";
import { digitsOf, pTextOrNull } from "../words.ts";

/** Coefficients and both analyses of variance, for whoever wants to check the sentences. */
export function modelTables(fit: Fit): readonly Part[] {
  const scale = fit.logScale ? ` On the scale of the natural logarithm of ${fit.response.name}.` : "";
  const level = Number((100 * fit.confidence).toPrecision(4));
  const sameTwice = sameAnalysis(fit.analysis, fit.analysisLast);
  return [
    {
      kind: "table",
      caption: `Coefficients.${scale}`,
      table: {
        columns: ["term", "estimate", "standard error", `low ${level} %`, `high ${level} %`, "t", "df", "p"],
        rows: fit.coefficients.map(({ label, estimate, standardError, low, high, t, df, p }) => [
          label,
          estimate,
          standardError,
          low,
          high,
          t,
          Number.isInteger(df) ? df : Number(df.toFixed(2)),
          pTextOrNull(p),
        ]),
      },
    },
    analysisTable(
      fit.analysis,
      `Analysis of variance${sameTwice ? " (the order of the terms makes no difference here)" : ", each term after those before it"}.${scale}`,
    ),
    ...(sameTwice
      ? []
      : [analysisTable(fit.analysisLast, `Analysis of variance, each term as if it came last.${scale}`)]),
    { kind: "text", text: fitNumbers(fit) },
  ];
}

function analysisTable(rows: readonly AnalysisRow[], caption: string): Part {
  const judgedOn = rows.some(({ denominatorDf }) => denominatorDf !== undefined);
  return {
    kind: "table",
    caption,
    table: {
      columns: [
        "source",
        "df",
        "sum of squares",
        "mean square",
        "F",
        ...(judgedOn ? ["judged on df"] : []),
        "p",
      ],
      rows: rows.map(({ source, df, sumOfSquares, meanSquare, f, p, denominatorDf }) => [
        source,
        df,
        sumOfSquares,
        meanSquare,
        f,
        ...(judgedOn ? [denominatorDf === undefined ? null : Number(denominatorDf.toFixed(2))] : []),
        pTextOrNull(p),
      ]),
    },
  };
}

/** Equal but for rounding: the sums of squares agree to a millionth of the largest. */
function sameAnalysis(one: readonly AnalysisRow[], other: readonly AnalysisRow[]): boolean {
  const most = Math.max(...one.map((row) => row.sumOfSquares), 0);
  return (
    one.length === other.length &&
    one.every((row, at) => {
      const twin = other[at];
      return twin?.source === row.source && Math.abs(twin.sumOfSquares - row.sumOfSquares) <= 1e-6 * most;
    })
  );
}

function fitNumbers({ residualSd, residualDf, rSquared, logScale, response }: Fit): string {
  const sd =
    residualSd === null
      ? "No residual standard deviation: no error is left."
      : logScale
        ? `Residual standard deviation ${digitsOf(residualSd, 3)} of the logarithm, about ${digitsOf(100 * (Math.exp(residualSd) - 1), 2)} % of ${response.name}, on ${residualDf} degrees of freedom.`
        : `Residual standard deviation ${digitsOf(residualSd, 3)} ${differenceUnit(response.unit)} on ${residualDf} degrees of freedom.`;
  return rSquared === null ? sd : `${sd} R² ${digitsOf(rSquared, 3)}.`;
}
