import { besideCusp, isMixedFit, meanOverMedian, surfaceSentences, type Fit } from "../model/index.ts";
import type { Remark } from "../review/index.ts";
import type { Settings } from "../trial/index.ts";
import { differenceUnit, formatNumber, pText } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";

/** A fit for a person: effects as sentences first, what the data can't say next, the numbers behind it last. */
export function fitText(
  fit: Fit,
  remarks: readonly Remark[],
  predictions: readonly Settings[],
  width: number,
): string {
  const bullet = (text: string) => wrapped(`- ${text}`, width, { indent: "  " });
  return [
    ...fit.effects.map(({ sentence }) => bullet(sentence)),
    ...(isMixedFit(fit) ? fit.variances.map(({ sentence }) => bullet(sentence)) : []),
    ...surfaceSentences(fit).map(bullet),
    ...lawSentences(fit).map(bullet),
    ...fit.inseparable.map(({ text }) => bullet(text)),
    ...(fit.noInterval ? [bullet(fit.noInterval)] : []),
    ...fit.notes.map(bullet),
    ...predictions.map((at) => bullet(fit.predict(at).text)),
    ...remarksText(remarks, width),
    "",
    "The numbers behind it:",
    numbers(fit),
    "",
    scatter(fit, width),
  ].join("\n");
}

/** A power law: what is told is a median, and how the feed's exponent stands to that of a cusp. */
function lawSentences(fit: Fit): readonly string[] {
  if (fit.kind !== "power-law") return [];
  const feed = fit.factors.find(({ name, kind }) => kind === "quantity" && name === "feed");
  return [...(feed ? [besideCusp(fit, feed.name).text] : []), meanOverMedian(fit).text];
}

/** Remarks with their evidence and mend, an empty line before each. */
export function remarksText(remarks: readonly Remark[], width: number): readonly string[] {
  return remarks.flatMap(({ title, evidence, mend }) => [
    "",
    wrapped(`! ${title}`, width, { indent: "  " }),
    wrapped(`  ${evidence}`, width, { indent: "  " }),
    wrapped(`  Mend: ${mend}`, width, { indent: "  " }),
  ]);
}

function numbers(fit: Fit): string {
  const percent = `${Math.round(fit.confidence * 1000) / 10} %`;
  return alignedTable(
    ["term", "estimate", `${percent} from`, "to"],
    fit.coefficients.map(({ label, estimate, standardError, low, high }) => {
      const shown = (value: number | null) =>
        value === null
          ? "not known"
          : formatNumber(value, standardError ? { uncertainty: standardError } : { digits: 6 });
      return [label, shown(estimate), shown(low), shown(high)];
    }),
  );
}

function scatter(fit: Fit, width: number): string {
  const unit = fit.logScale ? "(of natural logarithms)" : differenceUnit(fit.response.unit);
  const parts = [
    fit.residualSd === null
      ? "No scatter is left to judge by."
      : `Scatter about the model ${formatNumber(fit.residualSd, { digits: 3 })} ${unit} on ${fit.residualDf} degrees of freedom.`,
    fit.rSquared === null
      ? ""
      : `The model explains ${(100 * fit.rSquared).toFixed(1)} % of the variation (R²).`,
    fit.lackOfFit
      ? `Lack of fit: F ${formatNumber(fit.lackOfFit.f, { digits: 3 })} on ${fit.lackOfFit.dfLack} and ${fit.lackOfFit.dfPure}, p ${pText(fit.lackOfFit.p)}.`
      : fit.noLackOfFit,
  ];
  return wrapped(parts.filter((part) => part !== "").join(" "), width);
}
