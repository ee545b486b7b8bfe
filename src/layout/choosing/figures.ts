import { main, termKey, type Term } from "../../model/index.ts";
import type { Factor, Run } from "../../trial/index.ts";
import { tQuantile } from "../../numerics/index.ts";
import { quantitiesOf } from "../levels.ts";
import { aliasMatrix } from "../judge/alias-matrix.ts";
import { judge, powerOf } from "../judge/judge.ts";
import type { Judgement } from "../judgement.ts";
import type { CandidateFigures, GroupFigures, Leaning } from "./choice.ts";
import { averageVarianceOf } from "./average-variance.ts";
import type { CheckedQuestion } from "./question.ts";
import { productsOf, questionTerms, squaresOf } from "./question-terms.ts";
import { standardErrorsSeen } from "./seen-effect.ts";

/** So many leanings are named. */
const NAMED_LEANINGS = 12;

/** What some runs tell of the question, by judging them: main effects, products, squares, predictions and what leans on what. */
export function figuresOf(
  question: CheckedQuestion,
  runs: readonly Pick<Run, "block" | "settings">[],
): CandidateFigures {
  const { factors, confidence, effectInSigma } = question;
  const judged = (terms: readonly Term[]) =>
    judge(runs, factors, { terms, sigma: 1, effect: effectInSigma, confidence });
  const mains = factors.map(({ name }) => main(name));
  const products = productsOf(factors);
  const squares = squaresOf(factors);
  const { terms } = questionTerms(factors, question.stake);
  const own = judged(terms);
  const withProducts = includes(terms, products) ? own : judged([...mains, ...products]);
  const withSquares = includes(terms, squares) ? own : judged([...mains, ...squares]);
  const leanings = leaningsOf(factors, runs, terms, products);
  const group = (from: Judgement, which: readonly Term[]) => groupFigures(question, from, which);
  return {
    df: own.df,
    dfPureError: own.dfPureError,
    dfLackOfFit: own.dfLackOfFit,
    mainEffects: group(own, mains),
    products: group(withProducts, products),
    squares: halved(question, group(withSquares, squares), withSquares),
    prediction: predictionOf(question, runs, terms, own),
    worstLeaning: leanings?.reduce((most, { share }) => Math.max(most, Math.abs(share)), 0) ?? 1,
    leanings: [...(leanings ?? [])]
      .sort((one, other) => Math.abs(other.share) - Math.abs(one.share))
      .slice(0, NAMED_LEANINGS),
    bend: bendOf(factors, judged([...mains, ...squares]), judged(mains)),
  };
}

function includes(terms: readonly Term[], wanted: readonly Term[]): boolean {
  const keys = new Set(terms.map(termKey));
  return wanted.every((term) => keys.has(termKey(term)));
}

function groupFigures(question: CheckedQuestion, judged: Judgement, which: readonly Term[]): GroupFigures {
  const keys = new Set(which.map((term) => partsKey(term)));
  const found = judged.terms.filter((term) => keys.has(partsKey(term.term)));
  const told = found.filter((term) => term.standardError !== null);
  const worst = Math.max(0, ...told.map((term) => term.standardError ?? 0));
  const complete = found.length > 0 && told.length === found.length && judged.df > 0;
  const seen = complete ? standardErrorsSeen(judged.df, judged.confidence) : null;
  const halfWidth = complete ? Math.max(...found.map((term) => term.halfWidth ?? 0)) : null;
  const high = question.sigmaRange?.[1];
  return {
    told: told.length,
    of: found.length,
    halfWidthInSigma: halfWidth,
    seenInSigma: seen === null ? null : seen * 2 * worst,
    halfWidth: halfWidth === null || high === undefined ? null : halfWidth * high,
    chance: complete ? Math.min(...found.map((term) => term.power ?? 0)) : null,
  };
}

/**
 * A bend is how far the middle lies from the line between low and high: the coefficient of the square itself, which is half
 * of what `judge` calls its effect.
 */
function halved(question: CheckedQuestion, figures: GroupFigures, judged: Judgement): GroupFigures {
  const half = (value: number | null) => (value === null ? null : value / 2);
  const halfWidthInSigma = half(figures.halfWidthInSigma);
  const critical = judged.df < 1 ? null : tQuantile((1 + judged.confidence) / 2, judged.df);
  return {
    ...figures,
    halfWidthInSigma,
    seenInSigma: half(figures.seenInSigma),
    halfWidth: half(figures.halfWidth),
    chance:
      halfWidthInSigma === null || critical === null
        ? null
        : powerOf(question.effectInSigma / (halfWidthInSigma / critical), judged.df, judged.confidence),
  };
}

/** Factors with their degree; a level of a category ("edge=used") counts as its factor. */
function partsKey(term: Term): string {
  return termKey(
    Object.fromEntries(Object.entries(term).map(([name, degree]) => [name.split("=")[0] ?? "", degree])),
  );
}

function predictionOf(
  question: CheckedQuestion,
  runs: readonly Pick<Run, "block" | "settings">[],
  terms: readonly Term[],
  judged: Judgement,
): CandidateFigures["prediction"] {
  const averageVariance = averageVarianceOf(question.factors, terms, runs);
  if (averageVariance === null) return null;
  const halfWidthInSigma =
    judged.df < 1 ? null : tQuantile((1 + question.confidence) / 2, judged.df) * Math.sqrt(averageVariance);
  const high = question.sigmaRange?.[1];
  return {
    averageVariance,
    halfWidthInSigma,
    halfWidth: halfWidthInSigma === null || high === undefined ? null : halfWidthInSigma * high,
  };
}

/** Products of two factors that are left out of the model and fall on what is in it; null where the model can't be told. */
function leaningsOf(
  factors: readonly Factor[],
  runs: readonly Pick<Run, "block" | "settings">[],
  terms: readonly Term[],
  products: readonly Term[],
): readonly Leaning[] | null {
  const keys = new Set(terms.map(termKey));
  const omitted = products.filter((term) => !keys.has(termKey(term)));
  if (omitted.length === 0) return [];
  try {
    return aliasMatrix(runs, factors, { terms, omitted })
      .filter(({ label }) => label !== "mean" && !label.startsWith("block "))
      .map(({ label, omitted: hidden, share }) => ({ on: label, hidden, share }));
  } catch {
    return null;
  }
}

function bendOf(
  factors: readonly Factor[],
  withSquares: Judgement,
  straight: Judgement,
): CandidateFigures["bend"] {
  const quantities = quantitiesOf(factors).length;
  if (quantities === 0) return "no";
  const squares = withSquares.terms.filter(({ term }) => Object.values(term).includes(2));
  if (squares.length > 0 && squares.every(({ standardError }) => standardError !== null)) return "each";
  return straight.df > withSquares.df ? "together" : "no";
}
