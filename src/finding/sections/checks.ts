import { differenceUnit, listed } from "../../units/index.ts";
import { halfNormalFigure, normalQuantileFigure, orderFigure, residualFigure } from "../../figure/index.ts";
import { fitMethods, leftOutSentence, secondOpinionOn, type Fit } from "../../model/index.ts";
import type { Trial } from "../../trial/index.ts";
import type { FittedResponse } from "../fitted-response.ts";
import type { Part, Section } from "../part.ts";
import { digitsOf, pTextOrNull } from "../words.ts";
import { figurePart } from "./found.ts";

/** Whether the model is to be believed: lack of fit, runs left out, a second opinion, drift, residuals. */
export function checksSection(trial: Trial, fitted: readonly FittedResponse[]): Section {
  const parts = fitted.flatMap(({ response, fit }): readonly Part[] => {
    if (fit === null) return [];
    const title: readonly Part[] = fitted.length > 1 ? [{ kind: "sub-heading", text: response.name }] : [];
    return [...title, ...checksOf(trial, fit)];
  });
  return { id: "checks", title: "Is the model to be believed", parts };
}

function checksOf(trial: Trial, fit: Fit): readonly Part[] {
  const { name } = fit.response;
  const sentences = [
    lackOfFit(fit),
    leftOutSentence(fit),
    curvature(fit),
    secondOpinionOn(fit),
    unreplicated(fit),
  ].filter((text) => text !== "");
  return [
    { kind: "list", items: sentences },
    ...(fit.unreplicated === null
      ? []
      : figurePart(() => halfNormalFigure(fit, { trial }), "Which effects stand out from the rest.")),
    ...figurePart(
      () => orderFigure(fit, { trial }),
      `${name} in the order in which the runs were cut, with the drift that is left.`,
    ),
    ...figurePart(() => residualFigure(fit, { trial }), `What the model leaves over, against what it says.`),
    ...figurePart(
      () => normalQuantileFigure(fit, { trial }),
      `What the model leaves over, sorted, against a normal distribution.`,
    ),
    {
      kind: "folded",
      summary: "Methods and sources",
      parts: [{ kind: "list", items: fitMethods(fit).checks }],
    },
  ];
}

function lackOfFit({ lackOfFit: test, noLackOfFit, confidence }: Fit): string {
  if (test === null) return noLackOfFit === "" ? "" : `Lack of fit can't be judged: ${noLackOfFit}`;
  const numbers = `F ${digitsOf(test.f, 3)} on ${test.dfLack} and ${test.dfPure} degrees of freedom, p ${pTextOrNull(test.p)}`;
  return test.p < 1 - confidence
    ? `Runs at one setting scatter less than the model misses them (lack of fit: ${numbers}): the model lacks something.`
    : `The model misses the settings by no more than runs at one setting scatter (lack of fit: ${numbers}).`;
}

function curvature({ curvature: test, logScale, response }: Fit): string {
  if (test === null) return "";
  const unit = logScale ? " of the logarithm" : ` ${differenceUnit(response.unit)}`;
  const half = (test.high - test.low) / 2;
  const seen =
    test.low > 0 || test.high < 0
      ? "The response bends between low and high"
      : "No bend between low and high is seen";
  return `${seen}: corners less centre ${digitsOf(test.difference, 2)}${unit}, give or take ${digitsOf(half, 2)} (p ${pTextOrNull(test.p)}).`;
}

function unreplicated({ unreplicated: judged }: Fit): string {
  if (judged === null) return "";
  const { active, margin } = judged.exact;
  const labels = judged.effects.filter(({ term }) => active.includes(term)).map(({ label }) => label);
  const who =
    labels.length === 0
      ? "none stands out"
      : `${listed(labels)} ${labels.length === 1 ? "stands" : "stand"} out`;
  return `No error is left to judge by, so the effects are judged by one another: ${who} beyond the margin of ${digitsOf(margin, 3)} (Lenth 1989, with the limit drawn for ${judged.effects.length} effects).`;
}
