import type { Fit } from "./fit.ts";
import { isMixedFit } from "./mixed/index.ts";

/** The methods behind a fit and behind the checks of it, each with its published source. */
export interface FitMethods {
  /** Of effects, intervals and what else is told of the response. */
  readonly effects: readonly string[];
  /** Of lack of fit, drift, residuals and the second opinion. */
  readonly checks: readonly string[];
}

/**
 * How a fit was made and how it is checked, a sentence each with its published source, for the small print behind effects and checks: only what this fit really used.
 * Example: of a plain fit `fitMethods(fit).effects[0]` begins "Least squares".
 */
export function fitMethods(fit: Fit): FitMethods {
  const { kind, logScale, residualDf, unreplicated, repeats, lackOfFit, curvature } = fit;
  const mixed = isMixedFit(fit);
  const judged = mixed
    ? `Restricted likelihood with ${fit.random.join(" and ")} as random ${fit.random.length === 1 ? "source" : "sources"} of scatter (Patterson and Thompson 1971, Biometrika 58; Harville 1977, JASA 72); intervals by Student's t on degrees of freedom of their own, ${fit.smallSample === "kenward-roger" ? "by Kenward and Roger 1997, Biometrics 53" : "by Satterthwaite"}; shares of the scatter by profile likelihood.`
    : `Least squares${fit.weights === null ? "" : ", weighted"}; intervals by Student's t on ${residualDf} degrees of freedom, each holding by itself (Draper and Smith, Applied Regression Analysis).`;
  const scale =
    kind === "power-law"
      ? "Logarithms of the response and of the quantities are fitted, so that effects are ratios and a fitted value is a median (Shaw, Metal Cutting Principles; NIST/SEMATECH e-Handbook, 4.6.2)."
      : logScale
        ? "The logarithm of the response is fitted, so that effects are ratios and a fitted value is a median."
        : "";
  const effects = [
    judged,
    scale,
    unreplicated === null
      ? ""
      : "Which effects stand out where no error is left: the pseudo standard error of Lenth 1989, Technometrics 31, 469–473, with limits drawn for the number of effects (Ye and Hamada 2000, Journal of Quality Technology 32, 57–66).",
    repeats === null
      ? ""
      : "Where the scatter of one reading comes from: nested analysis of variance by mean squares (Searle, Casella and McCulloch 1992, Variance Components, 3.6).",
  ];
  const checks = [
    lackOfFit === null
      ? ""
      : "Lack of fit: what the model misses between settings against the scatter of runs at the same settings, by F (Draper and Smith).",
    curvature === null
      ? ""
      : "Bend: mean of the corners less mean of the centre, by t (Montgomery, Design and Analysis of Experiments).",
    "Drift: the place in cutting order as one more term of the same model.",
    "Residuals against normal quantiles: places by Blom 1958, Statistical Estimates and Transformed Beta-Variables; the band by the beta distribution of ordered values, drawn in for the residuals' own mean and standard deviation (David and Nagaraja 2003, Order Statistics). It holds for each place by itself.",
    mixed
      ? ""
      : "Runs left out: each in turn with all of its readings, predicted from the others (Allen 1974, Technometrics 16, 125–127).",
    mixed
      ? ""
      : "Second opinion: bisquare fit of the same model (Huber and Ronchetti 2009, Robust Statistics, ch. 7; Holland and Welsch 1977, Communications in Statistics A 6, 813–827).",
  ];
  return { effects: effects.filter(isSaid), checks: checks.filter(isSaid) };
}

function isSaid(text: string): boolean {
  return text !== "";
}
