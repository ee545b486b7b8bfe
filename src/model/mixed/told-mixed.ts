import { conditionalRows, tQuantile, tTwoSided } from "../../numerics/index.ts";
import type {
  DesignColumn,
  LeastSquares,
  MixedInference,
  RandomSource,
  RemlFit,
} from "../../numerics/index.ts";
import type { Trial } from "../../trial/index.ts";
import { combined, pointAt } from "../at-point.ts";
import type { BasisChange } from "../basis-change.ts";
import { changeOf } from "../contrast/linear-change.ts";
import { columnLabel, columnTerm } from "../design.ts";
import type { Design } from "../design.ts";
import { effectsOf } from "../effects.ts";
import { modelError } from "../error.ts";
import { once } from "../once.ts";
import type { Coefficient, Effect } from "../fit.ts";
import { inseparableSets } from "../inseparable.ts";
import { judged } from "../judged.ts";
import { ratioOf } from "../ratio.ts";
import { recipes } from "../recipes.ts";
import { residualVariance } from "../solved.ts";
import type { Solved } from "../solved.ts";
import { secondDegreeOf, surfaceOf } from "../surface/index.ts";
import { toldCoefficients } from "../told-coefficients.ts";
import { addedColumns } from "./added-columns.ts";
import { mixedAnalysis } from "./mixed-analysis.ts";
import type { MixedFit } from "./mixed-fit.ts";
import type { MixedInput } from "./mixed-input.ts";
import { mixedNotes } from "./mixed-notes.ts";
import type { MixedOptions } from "./mixed-options.ts";
import { mixedEvaluator } from "./mixed-evaluator.ts";
import { mixedRows } from "./mixed-rows.ts";
import { plainClaims } from "./plain-claims.ts";
import { mixedPredictor } from "./predict-mixed.ts";
import { varianceParts } from "./variance-parts.ts";

export interface FoundMixed extends MixedInput {
  readonly options: MixedOptions;
  readonly design: Design;
  readonly change: BasisChange;
  readonly columns: readonly DesignColumn[];
  readonly levels: readonly RandomSource[];
  readonly found: RemlFit;
  readonly mixed: MixedInference;
  readonly trial: Trial | null;
}

/** A mixed fit told in the shape of every fit. */
export function toldMixed(given: FoundMixed): MixedFit {
  const { observations, response, blocks, sources, confidence, powerLaw, logScale, terms } = given;
  const { options, design, change, columns, levels, found, mixed, trial, chosenFrom } = given;
  const { plain } = found;
  const solvedBy = (solution: LeastSquares, parts: Pick<Solved, "variance" | "reach" | "mixed">): Solved => ({
    observations,
    design,
    change,
    solution,
    response,
    weights: undefined,
    blocked: blocks !== undefined,
    logScale,
    confidence,
    droppedSize: solution.dropped.map(({ column }) =>
      columns[column].high.reduce((most, entry) => Math.max(most, Math.abs(entry)), 0),
    ),
    ...parts,
  });
  const byPlain = solvedBy(plain, {
    variance: residualVariance(plain),
    reach: tQuantile((1 + confidence) / 2, plain.df),
  });
  // Covariances are whole here, so that the variance they are multiplied with is 1.
  const solution = { ...plain, coefficients: mixed.coefficients, inverseCross: mixed.covariance };
  const solved = solvedBy(solution, { variance: 1, reach: 0, mixed });
  const inseparable = inseparableSets(solved);
  const context = { inseparable, unreplicated: null, noInterval: "" };
  const told = toldCoefficients(solution, change);
  const effects = once(() => effectsOf(solved, context));
  const conditional = once(() => conditionalRows(found, levels, response));
  const names = sources.map(({ name }) => name);
  const byReading = names.includes("run");
  const residual = sources.length;
  const all = Array.from({ length: residual + 1 }, (_, k) => k);
  const freshOfRun = byReading ? all.filter((k) => k !== residual && names[k] !== "spot") : all;
  const predict = mixedPredictor(solved, mixed, { run: freshOfRun, reading: byReading ? all : null });
  const parts = varianceParts(found, sources, {
    response: observations.response,
    logScale,
    confidence,
    row: byReading || observations.rows.every(({ readings }) => readings === 1) ? "reading" : "run",
  });
  const claims = once(() =>
    plainClaims(solved, byPlain, effects(), {
      context,
      sources: names.filter((_, k) => found.variances[k] > 0),
      dfs: effects().map((effect) => effectDf(solved, effect)),
    }),
  );
  const sequential = once(() => mixedAnalysis({ plain: byPlain, mixed }, conditional().within, "sequential"));
  const last = once(() => mixedAnalysis({ plain: byPlain, mixed }, conditional().within, "last"));
  const secondDegree = once(() => secondDegreeOf(solved));
  const surface = once(() => surfaceOf(solved, secondDegree()));
  const rows = once(() => mixedRows(observations, response, conditional(), found.variances[residual]));
  const covariance = once(() => {
    const cross = told.cross();
    return Array.from({ length: plain.rank }, (_, i) => [
      ...cross.subarray(i * plain.rank, (i + 1) * plain.rank),
    ]);
  });
  const notes = once(() => mixedNotes({ found, mixed, sources, observations, claims: claims(), chosenFrom }));
  const fit: MixedFit = {
    kind: powerLaw ? "power-law" : "linear",
    model: options.terms === undefined ? (options.model ?? "main") : "given",
    response: observations.response,
    factors: observations.factors,
    confidence,
    logScale,
    throughOrigin: false,
    scale: options.coded === true ? "coded" : "natural",
    blocks: blocks ?? null,
    weights: null,
    terms,
    coefficients: coefficientsOf(solved, told.multiples(), told.estimates, mixed),
    get covariance() {
      return covariance();
    },
    residualSd: Math.sqrt(found.variances[residual]),
    get residualDf() {
      return conditional().within.df;
    },
    noInterval: "",
    rSquared: null,
    rSquaredAdjusted: null,
    get analysis() {
      return sequential();
    },
    get analysisLast() {
      return last();
    },
    lackOfFit: null,
    noLackOfFit:
      "With several sources of scatter there is no single pure error, so lack of fit is not tested.",
    curvature: null,
    get surface() {
      return surface();
    },
    get secondDegree() {
      return secondDegree();
    },
    unreplicated: null,
    inseparable,
    get effects() {
      return effects();
    },
    get rows() {
      return rows();
    },
    repeats: observations.repeats,
    ...(chosenFrom === undefined ? {} : { chosenFrom }),
    get notes() {
      return notes();
    },
    predict,
    change: changeOf(solved, ""),
    evaluator: once(() =>
      mixedEvaluator(solved, mixed, {
        columns,
        fresh: freshOfRun,
        names: freshOfRun.flatMap((k) => (k === residual || names[k] === "run" ? [] : [names[k]])),
      }),
    ),
    ratio: ratioOf(solved, ""),
    recipes(asked) {
      if (trial !== null) return recipes(trial, fit, asked);
      throw modelError(
        "recipes of a fit to a table",
        "a fit to a trial",
        "Ask largestSetting(fit, …), which needs no trial.",
      );
    },
    added: addedColumns(columns, response, levels),
    random: names,
    smallSample: options.smallSample ?? "satterthwaite",
    variances: parts,
    get levelEffects() {
      return sources.map(({ name, levels: known, of }, k) => {
        const used = [...new Set(of)];
        return {
          source: name,
          levels: used.map((place, i) => ({ level: known[place], effect: conditional().effects[k][i] })),
        };
      });
    },
    deviance: found.deviance,
    convergence: convergenceText(found),
    get plainClaims() {
      return claims();
    },
    contrast(multiples) {
      const { rank } = plain;
      if (multiples.length !== rank)
        throw modelError(`${multiples.length} multiples`, `${rank}, one for each coefficient`);
      const combination = new Float64Array(rank);
      told.multiples().forEach((one, k) => {
        for (let j = 0; j < rank; j++) combination[j] += multiples[k] * one[j];
      });
      return mixed.contrast(combination);
    },
  };
  return fit;
}

function coefficientsOf(
  { design, solution, confidence }: Solved,
  multiples: readonly Float64Array[],
  estimates: Float64Array,
  mixed: MixedInference,
): readonly Coefficient[] {
  return solution.kept.map((place, k): Coefficient => {
    const column = design.columns[place];
    const { standardError, df } = mixed.contrast(multiples[k]);
    const estimate = estimates[k];
    const half = tQuantile((1 + confidence) / 2, df) * standardError;
    const t = standardError > 0 ? estimate / standardError : null;
    return {
      term: columnTerm(design, column),
      label: columnLabel(design, column),
      estimate,
      standardError,
      low: estimate - half,
      high: estimate + half,
      t,
      df,
      p: t === null ? null : tTwoSided(t, df),
    };
  });
}

function effectDf(solved: Solved, { factor, from, to }: Effect): number {
  const lower = pointAt(solved, { [factor]: from }, { rest: "average" });
  const upper = pointAt(solved, { [factor]: to }, { rest: "average" });
  const step = upper.map((value, k) => value - lower[k]);
  return judged(solved, step, combined(solved, step))?.df ?? 0;
}

function convergenceText({ converged, starts, decrement }: RemlFit): string {
  const apart = Math.max(...starts);
  const agree =
    apart < 1e-6
      ? `${starts.length} starts ended at the same place`
      : `of ${starts.length} starts the best was taken; the others ended up to ${apart.toPrecision(2)} of deviance worse`;
  return converged
    ? `Converged: a further step would lower the deviance by ${decrement < 1e-15 ? "less than 1e-15" : decrement.toExponential(0)}; ${agree}.`
    : "The search for the variances did not converge; treat the figures with caution.";
}
