import { dotProduct } from "../../numerics/index.ts";
import type { Setting } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { fitLinear } from "../fit-linear.ts";
import type { Observations } from "../observations.ts";
import { checkConfidence } from "../predict.ts";
import { quantileOf } from "../resample/bootstrap-interval.ts";
import { drawBlocks, drawBlocksInWorkers, type Drawn } from "../resample/draw-blocks.ts";
import { requireDraws, type WorkOptions } from "../resample/work-options.ts";
import { candidateTerms, type CandidateTerm } from "../screening/candidate-terms.ts";
import {
  modelsWithinReach,
  type ModelsWithinReach,
  type ReachOptions,
} from "../screening/models-within-reach.ts";
import { screeningResponse } from "../screening/screening-response.ts";
import { termKey } from "../term.ts";
import { interval, withReason } from "../words.ts";
import { choiceMaker, type ChoiceOrder } from "./choice-maker.ts";
import type { ChoiceBootstrap, ChoiceFigure } from "./choice-figures.ts";
import { choiceSentences } from "./choice-sentences.ts";
import { choiceTargets, halfOnFit, type ChoiceTarget } from "./choice-targets.ts";
import { fittedModel } from "./fitted-model.ts";
import { columnsOfModel, modelTree } from "./model-tree.ts";

export interface BootstrapChoiceOptions extends ReachOptions {
  /** From 200 to 1,000,000. Default 2,000. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
  /** Default 0.95. */
  readonly confidence?: number;
  /** Settings to predict at; factors left out stand in their middle. */
  readonly at?: readonly Readonly<Record<string, Setting>>[];
}

/**
 * Intervals that know of the choice of a model: trials are drawn, in each the whole choice among the models within reach is made anew (see `modelsWithinReach`) and
 * what it chooses is fitted, so that what the choice adds to the scatter is seen. Use it wherever the best of many models is fitted to the runs that chose it.
 *
 * Trials are drawn about the mean of the models within reach, weighted by their support (Buckland, Burnham and Augustin 1997, Biometrics 53, 603–618; from memory),
 * with normal scatter of the size that they leave. What is drawn is how far a figure lies from what it is there, over the scatter that the chosen model shows
 * (Efron and Tibshirani 1993, An Introduction to the Bootstrap, 12.5); the size of it that is not passed with the stated confidence, times the scatter
 * found, is the half-width. The choice made anew in each draw: Efron 2014, J. Amer. Statist. Assoc. 109, 991–1007, from memory. Factors that were not
 * chosen have their interval too. The seed is written down; the figures do not depend on the number of threads.
 *
 * Accuracy: not exact, for what is missed in most draws can't be told from nothing. Of 2,000 drawn trials of 12 runs, five factors with effects from nothing to twice
 * the scatter and a product, 95 % intervals of effects and a prediction held the truth in 89 to 97 of 100; those of the chosen model's own fit, where it had one, in
 * 51 to 89 (tests/simulation/choosing.md). The sentences say so.
 * Refused: as `modelsWithinReach`; fewer than 200 draws; more than 200,000 models; a chosen model that leaves no scatter.
 */
export function bootstrapChoice(
  observations: Observations,
  options: BootstrapChoiceOptions = {},
): ChoiceBootstrap {
  const plan = planned(observations, options);
  return told(plan, drawBlocks({ order: plan.order, maker: choiceMaker }));
}

/** The same in worker threads, with progress and a stop; what was drawn so far is kept. */
export async function bootstrapChoiceInWorkers(
  observations: Observations,
  options: BootstrapChoiceOptions & WorkOptions = {},
): Promise<ChoiceBootstrap> {
  const plan = planned(observations, options);
  const module = new URL("./choice-worker.ts", import.meta.url);
  const { order } = plan;
  return told(plan, await drawBlocksInWorkers({ order, maker: choiceMaker, module }, options));
}

/** Scatter of so small a share of the response is what rounding leaves of runs that are met exactly. */
const exactly = 1e-12;

interface Plan {
  readonly observations: Observations;
  readonly options: BootstrapChoiceOptions;
  readonly fit: Fit;
  readonly within: ModelsWithinReach;
  readonly candidates: readonly CandidateTerm[];
  readonly targets: readonly ChoiceTarget[];
  readonly order: ChoiceOrder;
}

function planned(observations: Observations, options: BootstrapChoiceOptions): Plan {
  const { draws = 2000, seed = 1, confidence = 0.95, log = false, at = [] } = options;
  requireDraws(draws, 200);
  checkConfidence(confidence);
  const within = modelsWithinReach(observations, options);
  const { response, base } = screeningResponse(observations, log);
  const candidates = candidateTerms(observations);
  const fit = fitLinear(observations, { terms: within.models[0].fitTerms, log, confidence });
  const size = Math.sqrt(dotProduct(response, response) / response.length);
  if (fit.residualSd === null || !(fit.residualSd > exactly * size))
    throw modelError(
      "a chosen model that leaves no scatter",
      "runs left over to show the scatter",
      "Allow fewer terms.",
    );
  const targets = choiceTargets(observations, fit, { candidates, base: base.length, at });
  const values = targets.map((target) => target.values);
  const placeOf = new Map(candidates.map(({ term }, place) => [termKey(term), place]));
  const centre = new Float64Array(response.length);
  const truth = new Float64Array(targets.length);
  let variance = 0;
  const support = within.models.map(({ behind }) => Math.exp(-behind / 2));
  const all = support.reduce((sum, one) => sum + one, 0);
  within.models.forEach(({ terms }, k) => {
    const places = terms.map((term) => placeOf.get(termKey(term))!);
    const model = fittedModel(candidates, places, base, values);
    const share = support[k] / all;
    model.fitted(response).forEach((value, row) => (centre[row] += share * value));
    model.weights.forEach((weights, t) => (truth[t] += share * dotProduct(weights, response)));
    variance += (share * model.residual(response)) / Math.max(1, model.df);
  });
  const search = { base, heredity: within.heredity, mostTerms: within.mostTerms };
  const columns = candidates.map(({ column, parents }) => ({ column, parents }));
  const order = {
    columns,
    search,
    targets: values,
    centre,
    scatter: Math.sqrt(variance),
    truth,
    draws,
    seed,
  };
  return { observations, options, fit, within, candidates, targets, order };
}

function told(
  { observations, options, fit: plain, within, candidates, targets, order }: Plan,
  { blocks, stopped }: Drawn,
): ChoiceBootstrap {
  const { confidence = 0.95, log = false } = options;
  const width = targets.length + 1;
  const draws = blocks.reduce((sum, { made }) => sum + made, 0);
  const few = draws < 200 ? `stopped after ${draws} draws, which are too few for an interval` : "";
  const drawn = (t: number): Float64Array =>
    Float64Array.from(
      blocks.flatMap(({ values, made }) => Array.from({ length: made }, (_, k) => values[k * width + t])),
    );
  const back = (value: number): number => (plain.logScale ? Math.exp(value) : value);
  const halves = targets.map((_, t) =>
    few === "" ? plain.residualSd! * quantileOf(drawn(t).map(Math.abs).sort(), confidence) : NaN,
  );
  const figures = targets.map(({ what, label, as, estimate, byFit }, t): ChoiceFigure => {
    const half = halves[t];
    const value =
      few === ""
        ? interval(back(estimate), back(estimate - half), back(estimate + half), confidence)
        : withReason(back(estimate), few);
    return { what, label, as, byFit, value };
  });
  const times = targets
    .flatMap(({ what, byFit }, t) => {
      const own = halfOnFit(plain, byFit);
      return what === "effect" && own !== null && own > 0 ? [halves[t] / own] : [];
    })
    .sort((a, b) => a - b);
  const widening = few !== "" || times.length === 0 ? null : Math.max(1, times[times.length >> 1]);
  const { how } = within.models[0].terms.chosenFrom;
  const fit = fitLinear(observations, {
    terms: within.models[0].fitTerms,
    log,
    confidence,
    chosenFrom: { how, ...(widening === null ? {} : { widening, by: "drawing" as const }) },
  });
  const base = {
    fit,
    within,
    figures,
    chosen: few === "" ? sharesOf(drawn(targets.length), order, candidates) : [],
    widening,
    confidence,
    seed: order.seed,
    asked: order.draws,
    draws,
    stopped,
  };
  return { ...base, sentences: choiceSentences(base) };
}

function sharesOf(
  models: Float64Array,
  order: ChoiceOrder,
  candidates: readonly CandidateTerm[],
): ChoiceBootstrap["chosen"] {
  const tree = modelTree(order.columns, order.search);
  const times = new Map<number, number>();
  for (const model of models) times.set(model, (times.get(model) ?? 0) + 1);
  const counts = candidates.map(() => 0);
  for (const [model, count] of times) for (const place of columnsOfModel(tree, model)) counts[place] += count;
  return candidates
    .map(({ label }, place) => ({ label, share: counts[place] / models.length }))
    .filter(({ share }) => share > 0)
    .sort((a, b) => b.share - a.share);
}
