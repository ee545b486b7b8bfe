import { leastSquares, tQuantile } from "../numerics/index.ts";
import type { Trial } from "../trial/index.ts";
import { lastAnalysis, sequentialAnalysis } from "./analysis.ts";
import { basisChange, plainDesign } from "./basis-change.ts";
import type { BasisChange } from "./basis-change.ts";
import { choiceNote } from "./chosen-from.ts";
import { coefficientTable, covarianceOf } from "./coefficients.ts";
import { changeOf } from "./contrast/linear-change.ts";
import { curvature } from "./curvature.ts";
import { designColumns } from "./design-columns.ts";
import { designOf } from "./design.ts";
import type { Design } from "./design.ts";
import { effectsOf } from "./effects.ts";
import { modelError } from "./error.ts";
import { once } from "./once.ts";
import type { Fit } from "./fit.ts";
import type { FitInput } from "./fit-options.ts";
import { fittedRows } from "./fitted-rows.ts";
import { inseparableSets } from "./inseparable.ts";
import { predictor } from "./predict.ts";
import { lackOfFit, pureError } from "./pure-error.ts";
import { ratioOf } from "./ratio.ts";
import { pointEvaluator } from "./recipe/point-evaluator.ts";
import { recipes } from "./recipes.ts";
import { residualVariance } from "./solved.ts";
import type { Solved } from "./solved.ts";
import { secondDegreeOf, surfaceOf } from "./surface/index.ts";
import type { Term } from "./term.ts";
import { toldCoefficients } from "./told-coefficients.ts";
import { unreplicated } from "./unreplicated.ts";

/** A model that was checked at the door. */
export interface AskedModel {
  readonly kind: Fit["kind"];
  readonly model: Fit["model"];
  readonly terms: readonly Term[];
  readonly logarithms: boolean;
  readonly logScale: boolean;
  readonly tell: "natural" | "coded";
  readonly throughOrigin: boolean;
  /** The trial that the rows came from, for recipes. */
  readonly trial: Trial | null;
}

/** Solves the least squares problem of a model and tells the answer. */
export function solvedFit(input: FitInput, asked: AskedModel): Fit {
  const solved = solve(input, asked);
  const { solution, observations, confidence, variance } = solved;
  const told = toldCoefficients(solution, solved.change);
  const pure = pureError(solved);
  const lack = lackOfFit(solved, pure);
  const inseparable = inseparableSets(solved);
  const lenth = unreplicated(solved);
  const noInterval = variance === null ? noScatterLeft : "";
  // What not every reader of a fit asks for is made when it is read, once.
  const covariance = once(() => covarianceOf(solved, told));
  const last = once(() => lastAnalysis(solved));
  const effects = once(() => effectsOf(solved, { inseparable, unreplicated: lenth, noInterval }));
  const secondDegree = once(() => secondDegreeOf(solved));
  const surface = once(() => surfaceOf(solved, secondDegree()));
  const fit: Fit = {
    kind: asked.kind,
    model: asked.model,
    response: observations.response,
    factors: observations.factors,
    confidence,
    logScale: asked.logScale,
    throughOrigin: asked.throughOrigin,
    scale: asked.tell,
    blocks: input.blocks ?? null,
    weights: input.weights === undefined ? null : [...input.weights],
    terms: asked.terms,
    coefficients: coefficientTable(solved, told),
    get covariance() {
      return covariance();
    },
    residualSd: variance === null ? null : Math.sqrt(variance),
    residualDf: solution.df,
    noInterval,
    ...explained(solved),
    analysis: sequentialAnalysis(solved),
    get analysisLast() {
      return last();
    },
    lackOfFit: typeof lack === "string" ? null : lack,
    noLackOfFit: typeof lack === "string" ? lack : "",
    curvature: curvature(solved, pure),
    get surface() {
      return surface();
    },
    get secondDegree() {
      return secondDegree();
    },
    unreplicated: lenth,
    inseparable,
    get effects() {
      return effects();
    },
    rows: fittedRows(solved),
    repeats: observations.repeats,
    ...(input.chosenFrom === undefined ? {} : { chosenFrom: input.chosenFrom }),
    notes: [
      ...(observations.notes ?? []),
      ...(input.chosenFrom === undefined ? [] : [choiceNote(input.chosenFrom)]),
    ],
    predict: predictor(solved, noInterval),
    evaluator: once(() => pointEvaluator(solved)),
    change: changeOf(solved, noInterval),
    ratio: ratioOf(solved, noInterval),
    recipes(options) {
      if (asked.trial !== null) return recipes(asked.trial, fit, options);
      throw modelError(
        "recipes of a fit to a table",
        "a fit to a trial",
        "Ask largestSetting(fit, …), which needs no trial.",
      );
    },
  };
  return fit;
}

const noScatterLeft =
  "the model has as many terms as there are different runs to fit them, so no run is left to show the scatter; cut replicates, or ask for fewer terms";

function solve(input: FitInput, asked: AskedModel): Solved {
  const { observations, response, weights, blocks, confidence } = input;
  const { tell, logarithms } = asked;
  const { design, change } = fittedBasis(
    designOf(observations.factors, asked.terms, { tell, logarithms, blocks }),
  );
  const columns = designColumns(design, observations.rows, blocks);
  const solution = leastSquares(columns, response, weights === undefined ? {} : { weights });
  const variance = residualVariance(solution);
  if (!solution.coefficients.every(Number.isFinite) || !solution.inverseCross.every(Number.isFinite)) {
    throw modelError(
      `settings of ${design.factors.map(({ name }) => name).join(" and ")} whose terms are beyond the range of numbers`,
      "settings of a usual size",
      "Give them in another unit.",
    );
  }
  const blocked = blocks !== undefined;
  const droppedSize = solution.dropped.map(({ column }) =>
    columns[column].high.reduce((most, entry) => Math.max(most, Math.abs(entry)), 0),
  );
  return {
    observations,
    design,
    change,
    solution,
    droppedSize,
    response,
    weights,
    blocked,
    logScale: asked.logScale,
    confidence,
    reach: solution.df > 0 ? tQuantile((1 + confidence) / 2, solution.df) : 0,
    variance,
  };
}

/** The centred columns where they fit the same model as the told ones, else the told ones. */
export function fittedBasis(design: Design): { readonly design: Design; readonly change: BasisChange } {
  const change = basisChange(design);
  if (change !== null) return { design, change };
  const plain = plainDesign(design);
  return { design: plain, change: basisChange(plain)! };
}

/** R², about the mean, or about zero through the origin; null where there is no scatter to explain. */
function explained({ solution, design }: Solved): Pick<Fit, "rSquared" | "rSquaredAdjusted"> {
  const { kept, sequential, residualSumOfSquares, df } = solution;
  let total = residualSumOfSquares;
  let terms = 0;
  kept.forEach((column, k) => {
    if (design.sources[design.columns[column].source].role === "intercept") return;
    total += sequential[k];
    terms += 1;
  });
  if (!(total > 0)) return { rSquared: null, rSquaredAdjusted: null };
  const unexplained = residualSumOfSquares / total;
  return {
    rSquared: 1 - unexplained,
    rSquaredAdjusted: df > 0 ? 1 - (unexplained * (df + terms)) / df : null,
  };
}
