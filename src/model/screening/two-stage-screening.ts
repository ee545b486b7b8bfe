import { fUpperQuantile, leastSquares, tQuantile, tTwoSided } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import { chosenTerms, type ChosenFrom, type ChosenTerms } from "../chosen-from.ts";
import { modelError } from "../error.ts";
import type { Observations } from "../observations.ts";
import type { Term } from "../term.ts";
import { withFactors } from "../with-factors.ts";
import { candidateTerms, type CandidateTerm } from "./candidate-terms.ts";
import { heredityWords, mayJoin, type Heredity } from "./heredity.ts";
import { mirrorPairs, type MirrorPairs } from "./mirror-pairs.ts";
import { screeningResponse } from "./screening-response.ts";
import { searchSubsets } from "./subset-search.ts";
import { pText } from "../words.ts";

/** A main effect of the first stage, in the response's unit (or of its logarithm) for the coded factor: half of low to high. */
export interface FirstStageEffect {
  readonly term: Term;
  readonly label: string;
  readonly estimate: number;
  readonly standardError: number;
  readonly p: number;
  readonly active: boolean;
}

export interface TwoStageScreening {
  /** False where the layout doesn't allow it; `sentences` says why. */
  readonly possible: boolean;
  readonly mains: readonly FirstStageEffect[];
  /** Scatter from run to run by the runs that no main effect needs; null where it isn't possible. */
  readonly scatter: { readonly sd: number; readonly df: number } | null;
  /** Products and squares of the second stage. */
  readonly second: readonly Term[];
  readonly secondLabels: readonly string[];
  /** Other choices of as many products and squares that leave no more unexplained than chance allows. */
  readonly alternatives: readonly (readonly Term[])[];
  /** False where the search ended before what is left came down to the scatter. */
  readonly settled: boolean;
  readonly active: ChosenTerms;
  /** What a fit of them takes: each factor of a product or square by itself too. A fit that is given either list says that these runs chose it. */
  readonly fitTerms: ChosenTerms;
  readonly heredity: Heredity;
  readonly sentences: readonly string[];
}

export interface TwoStageOptions {
  /** Default "strong". */
  readonly heredity?: Heredity;
  /** Confidence with which a main effect must stand out, default 0.95. */
  readonly confidence?: number;
  /** Chance of a false alarm at each step of the second stage; default 0.2, as its authors chose. */
  readonly secondStageRisk?: number;
  readonly log?: boolean;
}

/**
 * Screening in two stages, for layouts whose runs mirror one another (definitive screening with extra runs, folded fractions).
 *
 * The difference of two mirror runs holds main effects and no square or product; their mean the other way round. Stage one fits the differences: the
 * pairs that main effects don't need show the scatter, and each main effect is judged by Student's t; the inactive ones join the scatter. Stage two fits
 * the means and centre runs: while what is left exceeds the scatter (F test), one more product or square of the active factors is taken, the best set of each
 * size. Sets of the same size that leave no more than chance allows are listed too.
 *
 * Not possible (and said so): no mirror pairs, or as many factors as pairs and no repeated centre, which leaves no scatter to judge by.
 * Source: Jones and Nachtsheim 2017, Technometrics 59, 319–329 (the steps from memory).
 *
 * Example: 6 factors in 17 runs (two extra columns) give a scatter with 2 degrees of freedom for the main effects.
 */
export function twoStageScreening(
  observations: Observations,
  options: TwoStageOptions = {},
): TwoStageScreening {
  const { heredity = "strong", confidence = 0.95, secondStageRisk = 0.2, log = false } = options;
  if (!(secondStageRisk > 0 && secondStageRisk < 1))
    throw modelError(`a second-stage risk of ${secondStageRisk}`, "a number between 0 and 1, such as 0.2");
  if (!(confidence > 0 && confidence < 1))
    throw modelError(`a confidence of ${confidence}`, "a number between 0 and 1, such as 0.95");
  const { response } = screeningResponse(observations, log);
  const candidates = candidateTerms(observations);
  const mains = candidates.filter(
    ({ parents }, k) => parents.length === 0 && k < observations.factors.length,
  );
  const blocks = observations.rows.map(({ block }) => block);
  const mirror = mirrorPairs(mains, blocks);
  if (mirror === null)
    return impossible(
      heredity,
      "the runs don't mirror one another, so main effects aren't clear of squares and products",
    );
  const first = firstStage(mains, mirror, response, blocks);
  if (typeof first === "string") return impossible(heredity, first);
  const sorted = pooled(first, mains, confidence);
  const activeMains = new Set(sorted.mains.flatMap(({ active }, place) => (active ? [place] : [])));
  const second = secondStage({
    candidates: candidates
      .slice(mains.length)
      .filter(({ parents }) => mayJoin(parents, heredity, (place) => activeMains.has(place))),
    mirror,
    response,
    blocks,
    scatter: sorted.scatter,
    risk: secondStageRisk,
  });
  const active = [
    ...[...activeMains].map((place) => mains[place].term),
    ...second.chosen.map(({ term }) => term),
  ];
  const result = {
    possible: true,
    mains: sorted.mains,
    scatter: { sd: Math.sqrt(sorted.scatter.variance), df: sorted.scatter.df },
    second: second.chosen.map(({ term }) => term),
    secondLabels: second.chosen.map(({ label }) => label),
    alternatives: second.alternatives.map((set) => set.map(({ term }) => term)),
    settled: second.settled,
    active: chosenTerms(active, twoStageMark),
    fitTerms: chosenTerms(withFactors(active), twoStageMark),
    heredity,
  };
  return { ...result, sentences: sentences(result, second.alternatives) };
}

const twoStageMark: ChosenFrom = { how: "what stands out in two stages of screening of these same runs" };

interface Scatter {
  readonly variance: number;
  readonly df: number;
}

interface FirstStage {
  readonly estimates: readonly number[];
  /** Variance of each estimate over the variance of a run. */
  readonly unit: readonly number[];
  readonly scatter: Scatter;
}

/** Fits the half-differences of the mirror pairs, whose variance is half of a run's; repeated centres add their own scatter. */
function firstStage(
  mains: readonly CandidateTerm[],
  { pairs, centres }: MirrorPairs,
  response: Float64Array,
  blocks: readonly number[],
): FirstStage | string {
  const half = Float64Array.from(pairs, ([a, b]) => (response[a] - response[b]) / 2);
  const solution = leastSquares(
    mains.map(({ column }) => ({ high: Float64Array.from(pairs, ([a]) => column[a]) })),
    half,
  );
  if (solution.rank < mains.length) return "some main effects move together in every run";
  const repeated = centreScatter(centres, response, blocks);
  const df = solution.df + repeated.df;
  if (df === 0)
    return "there are as many factors as mirror pairs and no repeated centre run, so no run is left to show the scatter; lay out two or more extra runs";
  const variance = (2 * solution.residualSumOfSquares + repeated.sumOfSquares) / df;
  const total = response.reduce((sum, value) => sum + value * value, 0);
  if (!(variance > 1e-24 * total)) return "the runs are met exactly, so there is no scatter to judge by";
  const { inverseCross, rank } = solution;
  return {
    estimates: [...solution.coefficients],
    unit: mains.map((_, k) => inverseCross[k * rank + k] / 2),
    scatter: { variance, df },
  };
}

function centreScatter(centres: readonly number[], response: Float64Array, blocks: readonly number[]) {
  let sumOfSquares = 0;
  let df = 0;
  for (const block of new Set(centres.map((row) => blocks[row]))) {
    const values = centres.filter((row) => blocks[row] === block).map((row) => response[row]);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    sumOfSquares += values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    df += values.length - 1;
  }
  return { sumOfSquares, df };
}

/** Judges the main effects, and lets the inactive ones join the scatter. */
function pooled(
  first: FirstStage,
  mains: readonly CandidateTerm[],
  confidence: number,
): { readonly mains: readonly FirstStageEffect[]; readonly scatter: Scatter } {
  const { estimates, unit, scatter } = first;
  const limit = tQuantile((1 + confidence) / 2, scatter.df);
  const judged = mains.map(({ term, label }, k): FirstStageEffect => {
    const standardError = Math.sqrt(unit[k] * scatter.variance);
    const t = estimates[k] / standardError;
    return {
      term: { ...term },
      label,
      estimate: estimates[k],
      standardError,
      p: tTwoSided(t, scatter.df),
      active: Math.abs(t) > limit,
    };
  });
  let sumOfSquares = scatter.variance * scatter.df;
  let df = scatter.df;
  judged.forEach(({ active, estimate }, k) => {
    if (active) return;
    sumOfSquares += estimate ** 2 / unit[k];
    df += 1;
  });
  return { mains: judged, scatter: { variance: sumOfSquares / df, df } };
}

interface SecondStage {
  readonly chosen: readonly CandidateTerm[];
  readonly alternatives: readonly (readonly CandidateTerm[])[];
  readonly settled: boolean;
}

/** Takes products and squares until what is left of the pair means and centres is no more than scatter. */
function secondStage(given: {
  readonly candidates: readonly CandidateTerm[];
  readonly mirror: MirrorPairs;
  readonly response: Float64Array;
  readonly blocks: readonly number[];
  readonly scatter: Scatter;
  readonly risk: number;
}): SecondStage {
  const { candidates, response, blocks, scatter, risk } = given;
  const { pairs, centres } = given.mirror;
  // Each row times the root of its weight: a mean of two runs counts twice.
  const rows = [
    ...pairs.map(([a, b]) => ({ at: a, root: Math.SQRT2, value: (response[a] + response[b]) / 2 })),
    ...centres.map((at) => ({ at, root: 1, value: response[at] })),
  ];
  const weighted = (column: (row: number) => number) =>
    Float64Array.from(rows, ({ at, root }) => root * column(at));
  const base = [...new Set(blocks)].map((block) => weighted((row) => (blocks[row] === block ? 1 : 0)));
  const columns = candidates.map(({ column }) => ({ column: weighted((row) => column[row]), parents: [] }));
  const search = searchSubsets(
    columns,
    Float64Array.from(rows, ({ root, value }) => root * value),
    {
      base,
      heredity: "none",
      mostTerms: Math.max(
        0,
        Math.min(candidates.length, Math.floor(rows.length / 2), rows.length - base.length - 1),
      ),
      keep: 50,
    },
  );
  const sizes = [...new Set(search.subsets.map(({ terms }) => terms.length))];
  let last = search.subsets[0];
  for (const size of sizes) {
    const sets = search.subsets.filter(({ terms }) => terms.length === size);
    last = sets[0];
    const df = rows.length - base.length - size;
    if (df < 1) break;
    const limit = scatter.variance * df * fUpperQuantile(risk, df, scatter.df);
    if (last.residualSumOfSquares > limit) continue;
    return {
      chosen: last.terms.map((place) => candidates[place]),
      alternatives: sets
        .slice(1)
        .filter(({ residualSumOfSquares }) => residualSumOfSquares <= limit)
        .map(({ terms }) => terms.map((place) => candidates[place])),
      settled: true,
    };
  }
  return { chosen: last.terms.map((place) => candidates[place]), alternatives: [], settled: false };
}

function impossible(heredity: Heredity, why: string): TwoStageScreening {
  return {
    possible: false,
    mains: [],
    scatter: null,
    second: [],
    secondLabels: [],
    alternatives: [],
    settled: false,
    active: chosenTerms([], twoStageMark),
    fitTerms: chosenTerms([], twoStageMark),
    heredity,
    sentences: [`Screening in two stages is not possible: ${why}.`],
  };
}

function sentences(
  result: Omit<TwoStageScreening, "sentences">,
  alternatives: readonly (readonly CandidateTerm[])[],
): readonly string[] {
  const { mains, secondLabels, heredity, settled, scatter } = result;
  const active = mains.filter((effect) => effect.active);
  const made = [
    active.length === 0
      ? "No factor by itself stands out from the scatter."
      : `${listed(active.map(({ label, p }) => `${label} (p ${pText(p)})`))} ${active.length === 1 ? "stands" : "stand"} out from the scatter, clear of every square and product.`,
  ];
  if (secondLabels.length > 0)
    made.push(
      `${listed(secondLabels)} ${secondLabels.length === 1 ? "explains" : "explain"} what is left; on the rule that ${heredityWords[heredity]}.`,
    );
  else if (settled) made.push("No square or product is needed: what is left is no more than the scatter.");
  if (alternatives.length > 0)
    made.push(
      `So ${alternatives.length === 1 ? "does" : "do"} ${listed(
        alternatives.slice(0, 3).map((set) => set.map(({ label }) => label).join(" with ")),
        "or",
      )}${alternatives.length > 3 ? `, and ${alternatives.length - 3} other choices` : ""}: the runs can't tell them apart.`,
    );
  if (!settled)
    made.push(
      "More is left than the scatter explains, whatever squares and products of these factors are taken: a factor with no effect of its own may be part of a product, or the scatter was small by chance.",
    );
  if (scatter && scatter.df < 4)
    made.push(
      `The scatter is known by only ${scatter.df} degree${scatter.df === 1 ? "" : "s"} of freedom: a real effect may well be missed.`,
    );
  return made;
}
