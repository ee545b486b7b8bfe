import { main, termKey, type Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { quantitiesOf } from "../levels.ts";
import { biasesOf } from "../judge/bias.ts";
import { pureErrorDf } from "../judge/pure-error.ts";
import type { JudgedRun } from "../judge/told.ts";
import type { CandidateFigures, GroupFigures, Leaning } from "./choice.ts";
import { averageVarianceOf } from "./average-variance.ts";
import type { CheckedQuestion } from "./question.ts";
import { productsOf, questionTerms, squaresOf } from "./question-terms.ts";
import type { Seeing } from "./seeing.ts";
import { tellingOf, type Telling, type ToldTerm } from "./telling.ts";

/** So many leanings are named. */
const NAMED_LEANINGS = 12;

/** The models that a choice asks about, made ready over some runs: the slow part, which no σ and no effect changes. */
export interface Tellings {
  /** Of the model that answers the question. */
  readonly own: Telling;
  readonly withProducts: Telling;
  readonly straight: Telling;
  readonly bent: Telling;
  /** Null where the model can't be told. */
  readonly leanings: readonly Leaning[] | null;
  readonly dfPureError: number;
  readonly averageVariance: number | null;
}

export function tellingsOf(
  { factors, stake, varianceRatio }: Pick<CheckedQuestion, "factors" | "stake" | "varianceRatio">,
  runs: readonly JudgedRun[],
): Tellings {
  const mains = factors.map(({ name }) => main(name));
  const products = productsOf(factors);
  const squares = squaresOf(factors);
  const { terms } = questionTerms(factors, stake);
  const told = (wanted: readonly Term[]) => tellingOf(factors, runs, wanted, { varianceRatio });
  const own = told(terms);
  const straight = terms.length === mains.length ? own : told(mains);
  return {
    own,
    withProducts: includes(terms, products) ? own : told([...mains, ...products]),
    straight,
    bent:
      squares.length === 0
        ? straight
        : includes(terms, squares) && !includes(terms, products)
          ? own
          : told([...mains, ...squares]),
    leanings: leaningsOf(factors, runs, own, terms, products),
    dfPureError: pureErrorDf(factors, runs),
    averageVariance: averageVarianceOf(own),
  };
}

/** What some runs tell of the question: main effects, products, squares, predictions and what leans on what. */
export function figuresOf(question: CheckedQuestion, seeing: Seeing, tellings: Tellings): CandidateFigures {
  const { factors } = question;
  const { own, withProducts, straight, bent, leanings, dfPureError, averageVariance } = tellings;
  const squares = squaresOf(factors);
  const inOwn = includes(own.told.model.terms, squares);
  const group = (telling: Telling, terms: readonly Term[], scale: number) =>
    groupFigures(question, seeing, effectsOf(telling, terms), scale);
  return {
    df: own.df,
    dfPureError,
    dfLackOfFit: own.df - dfPureError,
    mainEffects: group(
      own,
      factors.map(({ name }) => main(name)),
      2,
    ),
    products: group(withProducts, productsOf(factors), 2),
    // A bend is how far the middle lies from the line between low and high: the coefficient of the square itself.
    squares: group(inOwn ? own : bent, squares, 1),
    prediction: predictionOf(
      question,
      seeing,
      // Where set-ups scatter, a prediction is no surer than what is told least surely in it.
      own.told.split ? Math.min(...own.terms.map(({ df }) => df)) : own.df,
      averageVariance,
    ),
    worstLeaning: leanings?.reduce((most, { share }) => Math.max(most, Math.abs(share)), 0) ?? 1,
    leanings: [...(leanings ?? [])]
      .sort((one, other) => Math.abs(other.share) - Math.abs(one.share))
      .slice(0, NAMED_LEANINGS),
    bend: bendOf(factors, bent, straight),
  };
}

function includes(terms: readonly Term[], wanted: readonly Term[]): boolean {
  const keys = new Set(terms.map(termKey));
  return wanted.every((term) => keys.has(termKey(term)));
}

function effectsOf(telling: Telling, which: readonly Term[]): readonly ToldTerm[] {
  const keys = new Set(which.map(factorsKey));
  return telling.terms.filter(({ term }) => keys.has(factorsKey(term)));
}

/** Factors with their degree; a level of a category ("edge=used") counts as its factor. */
function factorsKey(term: Term): string {
  return termKey(
    Object.fromEntries(Object.entries(term).map(([name, degree]) => [name.split("=")[0] ?? "", degree])),
  );
}

/** `scale`: how many coded coefficients the effect is. */
function groupFigures(
  question: CheckedQuestion,
  seeing: Seeing,
  effects: readonly ToldTerm[],
  scale: number,
): GroupFigures {
  const told = effects.flatMap(({ standardError, df }) =>
    standardError === null ? [] : [{ error: scale * standardError, df }],
  );
  const complete = told.length > 0 && told.length === effects.length;
  const known = complete && told.every(({ df }) => df > 0);
  const most = (of: (effect: { readonly error: number; readonly df: number }) => number) =>
    known ? Math.max(...told.map(of)) : null;
  const halfWidthInSigma = most(({ error, df }) => seeing.limit(df) * error);
  const high = question.sigmaRange?.[1];
  return {
    told: told.length,
    of: effects.length,
    standardErrorInSigma: complete ? Math.max(...told.map(({ error }) => error)) : null,
    df: effects.length === 0 ? 0 : Math.min(...effects.map(({ df }) => df)),
    halfWidthInSigma,
    leastHalfWidthInSigma: known ? Math.min(...told.map(({ error, df }) => seeing.limit(df) * error)) : null,
    seenInSigma: most(({ error, df }) => seeing.seen(df) * error),
    halfWidth: halfWidthInSigma === null || high === undefined ? null : halfWidthInSigma * high,
    chance: known
      ? Math.min(...told.map(({ error, df }) => seeing.chance(question.effectInSigma / error, df)))
      : null,
  };
}

function predictionOf(
  question: CheckedQuestion,
  seeing: Seeing,
  df: number,
  averageVariance: number | null,
): CandidateFigures["prediction"] {
  if (averageVariance === null) return null;
  const halfWidthInSigma = df < 1 ? null : seeing.limit(df) * Math.sqrt(averageVariance);
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
  runs: readonly JudgedRun[],
  own: Telling,
  terms: readonly Term[],
  products: readonly Term[],
): readonly Leaning[] | null {
  if (own.told.information.dropped.length > 0) return null;
  const keys = new Set(terms.map(termKey));
  const omitted = products.filter((term) => !keys.has(termKey(term)));
  if (omitted.length === 0) return [];
  return biasesOf(
    own.told,
    factors,
    runs.map(({ settings }) => settings),
    { omitted, effect: null },
  ).map(({ label, omitted: hidden, share }) => ({ on: label, hidden, share }));
}

function bendOf(factors: readonly Factor[], bent: Telling, straight: Telling): CandidateFigures["bend"] {
  if (quantitiesOf(factors).length === 0) return "no";
  const squares = bent.terms.filter(({ term }) => Object.values(term).includes(2));
  if (squares.every(({ standardError }) => standardError !== null)) return "each";
  return straight.df > bent.df ? "together" : "no";
}
