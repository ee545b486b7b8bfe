import { differenceUnit, formatNumber, pText } from "../units/index.ts";
import { extent, tTwoSided } from "../numerics/index.ts";
import type { FittedRow } from "../model/index.ts";
import type { Check } from "./context.ts";
import { whatWouldChange } from "./without-run.ts";
import { lineThrough } from "./line-through.ts";

/** One in twenty over the whole trial: what clean data would raise by chance in one trial of twenty. */
const familyLevel = 0.05;

/**
 * A run far from the model: externally studentised residual, Bonferroni over all runs (Cook and Weisberg 1982, section 2.2.2, from memory). On clean data: 5 trials in
 * 100 (5.2 % of 10,000 trials of 16 runs; tests/coverage).
 */
export const outlyingRun: Check = ({ fit }) => {
  if (!fit || fit.residualDf < 3) return [];
  const rows = fit.rows.filter((row): row is FittedRow & { studentised: number } => row.studentised !== null);
  return rows.flatMap((row) => {
    const p = Math.min(1, rows.length * tTwoSided(row.studentised, fit.residualDf - 1));
    if (p >= familyLevel) return [];
    const size = fit.logScale
      ? `${formatNumber(Math.exp(row.residual), { digits: 3 })} times what the other runs lead one to expect`
      : `${formatNumber(Math.abs(row.residual), { digits: 2 })} ${differenceUnit(fit.response.unit)} ${row.residual > 0 ? "above" : "below"} what the other runs lead one to expect`;
    return [
      {
        kind: "outlying-run",
        weight: "caution" as const,
        title: `Run ${row.run} stands apart: ${fit.response.name} is ${size}.`,
        evidence:
          `Studentised residual ${formatNumber(row.studentised, { digits: 2 })}; a run as far out as this would be met in ${pText(p)} of trials of ${rows.length} clean runs. ${whatWouldChange(fit, row.run)}`.trimEnd(),
        mend: "Look at the reading, the trace and the edge of that run. Void it only for a reason that you can write down; else cut that setting again.",
        runs: [row.run],
        addRuns: [row.settings],
      },
    ];
  });
};

/** Curvature or other form that the model leaves over: centre points against corners, else lack of fit against pure error. On clean data: 5 trials in 100 (5.0 % of 10,000). */
export const formLeftOver: Check = ({ fit }) => {
  if (!fit) return [];
  const { curvature, lackOfFit } = fit;
  if (curvature && curvature.p < familyLevel) {
    return [
      {
        kind: "curvature-left-over",
        weight: "caution",
        title: `${fit.response.name} bends between low and high: a straight-line model misses it.`,
        evidence: `The corners lie ${formatNumber(curvature.difference, { uncertainty: curvature.standardError })} from the centre (${Math.round(fit.confidence * 100)} % ${formatNumber(curvature.low, { uncertainty: curvature.standardError })} to ${formatNumber(curvature.high, { uncertainty: curvature.standardError })}), p ${pText(curvature.p)}.`,
        mend: "Add settings between or beyond the ends (axial runs) and fit squares, or fit a power law if the factors' ranges span a factor of two or more.",
        runs: [],
        addRuns: [],
      },
    ];
  }
  if (lackOfFit && lackOfFit.p < familyLevel) {
    return [
      {
        kind: "curvature-left-over",
        weight: "caution",
        title: `The model misses some of the form of ${fit.response.name}: the runs lie farther from it than replicates lie from one another.`,
        evidence: `Lack of fit F ${lackOfFit.f.toFixed(2)} on ${lackOfFit.dfLack} and ${lackOfFit.dfPure} degrees of freedom, p ${pText(lackOfFit.p)}.`,
        mend: `Add interactions or squares${fit.logScale ? "" : ", or fit on the log scale"}; look at the residuals against each factor to see where it bends.`,
        runs: [],
        addRuns: [],
      },
    ];
  }
  return [];
};

/** Where scatter grows with the size of the response a model of differences gives wrong intervals at both ends. On clean data: fewer than 2.5 trials in 100 (0.7 % of 10,000). */
export const scatterGrowsWithSize: Check = ({ fit }) => {
  if (!fit || fit.logScale || fit.residualDf < 6) return [];
  const positive = fit.rows.filter(
    (row) => row.fitted > 0 && Math.abs(row.residual) > 0 && (row.leverage ?? 0) < 1 - 1e-9,
  );
  const [smallest, largest] = extent(positive.map(({ fitted }) => fitted));
  if (positive.length < 8 || !(largest / smallest >= 1.5)) return [];
  const slope = lineThrough(
    positive.map(({ fitted }) => Math.log(fitted)),
    positive.map(({ residual, leverage }) => Math.log(Math.abs(residual) / Math.sqrt(1 - (leverage ?? 0)))),
  );
  const p = tTwoSided(slope.t, positive.length - 2);
  if (p >= familyLevel || slope.slope <= 0) return [];
  return [
    {
      kind: "scatter-grows-with-size",
      weight: "caution",
      title: `The scatter of ${fit.response.name} grows with its size.`,
      evidence: `Doubling ${fit.response.name} goes with ${formatNumber(2 ** slope.slope, { digits: 2 })} times the scatter about the model (p ${pText(p)}); the intervals are then too wide at the fine end and too narrow at the rough end.`,
      mend: "Fit the power law (logarithms): effects are then ratios, and the scatter is a percentage.",
      runs: [],
      addRuns: [],
    },
  ];
};

/** Settings asked for that lie outside what was cut; the ends themselves are inside. A fact of the settings: no reading can raise it by chance. */
export const predictionOutside: Check = ({ fit, predictions }) =>
  !fit
    ? []
    : predictions.flatMap((at) => {
        const { extrapolation } = fit.predict(at);
        if (extrapolation.length === 0) return [];
        return [
          {
            kind: "prediction-outside",
            weight: "caution" as const,
            title: `A setting asked for lies outside what was cut: ${extrapolation.join("; ")}.`,
            evidence: "No interval covers what was never cut: the model's form itself is a guess there.",
            mend: "Stay inside the range, or cut a pass at that setting and add it to the trial.",
            runs: [],
            addRuns: [at],
          },
        ];
      });
