import { otherNotes } from "../finding/index.ts";
import {
  fitMethods,
  isInterval,
  isMixedFit,
  leftOutSentence,
  secondOpinionOn,
  surfaceSentences,
  type Fit,
} from "../model/index.ts";
import type { TrialFolder } from "../store/index.ts";
import { formatNumber, withUnit, isUnit, pText } from "../units/index.ts";
import type { FitView, ReviewQuestion } from "./api.ts";
import { isRefusal } from "./error.ts";
import type { ChosenFit } from "./chosen-fit.ts";
import { checkFigures, mainFigures } from "./fit-figures.ts";
import { fitTables } from "./fit-tables.ts";
import { levelsView, scatterView } from "./levels-view.ts";

function inUnit(value: number, unit: string): string {
  const number = formatNumber(value, { digits: 3 });
  return isUnit(unit) ? withUnit(number, unit) : number;
}

/** How well the model follows the runs: the scatter that is left, and whether the model's form is enough. */
function factsOf(fit: Fit): readonly (readonly [string, string])[] {
  const { residualSd, residualDf, rSquared, lackOfFit, logScale, response } = fit;
  const scatter =
    residualSd === null
      ? "can't be told: no run is left over"
      : logScale
        ? `a factor of ${formatNumber(Math.exp(residualSd), { digits: 3 })} (one standard deviation)`
        : `${inUnit(residualSd, response.unit)} (one standard deviation)`;
  return [
    [
      isMixedFit(fit)
        ? `Scatter from run to run within ${fit.random.join(" and ")}`
        : "Scatter from run to run",
      `${scatter}, ${residualDf} degrees of freedom`,
    ],
    [
      "Share of the variation followed",
      rSquared === null
        ? isMixedFit(fit)
          ? "has no one meaning where scatter comes from several sources"
          : "can't be told"
        : `${formatNumber(100 * rSquared, { digits: 3 })} %`,
    ],
    [
      "Is the model's form enough?",
      lackOfFit === null
        ? fit.noLackOfFit
        : `Lack of fit against replicates: F(${lackOfFit.dfLack}, ${lackOfFit.dfPure}) = ${formatNumber(lackOfFit.f, { digits: 3 })}, p ${pText(lackOfFit.p)}`,
    ],
  ];
}

/** "Halving the feed multiplies Ra by …", for each quantity of a power law. */
function ratioSentences(fit: Fit): readonly string[] {
  if (fit.kind !== "power-law") return [];
  return fit.factors.flatMap((factor) => {
    if (factor.kind !== "quantity") return [];
    try {
      const ratio = fit.ratio(factor.name, 0.5);
      return isInterval(ratio)
        ? [`Halving the ${factor.name} multiplies ${fit.response.name} by ${ratio.text}.`]
        : [];
    } catch (error) {
      if (isRefusal(error)) return [];
      throw error;
    }
  });
}

/** A fit as it is shown: sentences and figures first, tables behind. */
export function fitView(trial: TrialFolder, { fit, why, picked }: ChosenFit, asked: ReviewQuestion): FitView {
  return {
    why,
    picked,
    sentences: [
      ...fit.effects.map(({ sentence }) => sentence),
      ...ratioSentences(fit),
      ...(isMixedFit(fit) ? fit.variances.map(({ sentence }) => sentence) : []),
      ...surfaceSentences(fit),
    ],
    cautions: [fit.noInterval, ...fit.inseparable.map(({ text }) => text)].filter((text) => text !== ""),
    facts: factsOf(fit),
    leftOut: picked.length === 0 ? leftOutSentence(fit) : "",
    notes: [...(picked.length === 0 ? fit.notes : otherNotes(fit)), secondOpinionOn(fit)].filter(
      (text) => text !== "",
    ),
    figures: mainFigures(trial, fit),
    checks: checkFigures(trial, fit),
    tables: fitTables(fit),
    methods: fitMethods(fit),
    levels: levelsView(fit, asked),
    scatter: scatterView(fit),
  };
}
