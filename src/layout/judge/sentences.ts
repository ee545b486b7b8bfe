import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { Judgement, TermJudgement } from "../judgement.ts";

/** Correlations above this are worth a sentence: a tenth of the variance is shared. */
const WORTH_SAYING = 0.3;

/** A judgement in plain words: what is known to what width, what is seen with what chance, what can't be told. */
export function judgementSentences(
  judged: Omit<Judgement, "sentences">,
  factors: readonly Factor[],
  unit: string,
): readonly string[] {
  return [
    ...widthSentences(judged, factors, unit),
    ...judged.inseparable.map((set) => set.text),
    ...correlationSentences(judged.terms),
    ...orderSentences(judged.terms),
    ...hardSentences(factors),
    errorSentence(judged),
  ];
}

/** The figures take every run as set up afresh; a factor that is changed only now and then has fewer fresh set-ups than runs. */
function hardSentences(factors: readonly Factor[]): readonly string[] {
  const hard = factors.filter(({ change }) => change === "hard").map(({ name }) => name);
  if (hard.length === 0) return [];
  return [
    `${listed(hard)} ${hard.length === 1 ? "is" : "are"} hard to change: these figures count every run as a fresh set-up, so for ${hard.length === 1 ? "it" : "them"} they promise too much where runs share one.`,
  ];
}

function widthSentences(
  judged: Omit<Judgement, "sentences">,
  factors: readonly Factor[],
  unit: string,
): readonly string[] {
  const withUnit = (value: number) => figures(value) + (unit ? ` ${unit}` : "");
  const percent = `${figures(100 * judged.confidence)} %`;
  const groups = new Map<string, TermJudgement[]>();
  for (const term of judged.terms) {
    if (term.halfWidth === null) continue;
    const key = `${figures(term.halfWidth)} ${term.power === null ? "" : term.power.toFixed(2)}`;
    groups.set(key, [...(groups.get(key) ?? []), term]);
  }
  return [...groups.values()].map((terms) => {
    const first = terms[0];
    const names = terms.map((term) => wordsOf(term, factors));
    const seen =
      first?.power === null || first?.power === undefined || judged.effect === null
        ? ""
        : `; an effect of ${withUnit(judged.effect)} is seen with chance ${chance(first.power)}`;
    const subject = terms.length === 1 ? `the effect of ${names[0]}` : `each effect of ${listed(names)}`;
    return `With σ = ${withUnit(judged.sigma)} ${subject} will be known to ± ${withUnit(first?.halfWidth ?? 0)} (${percent})${seen}.`;
  });
}

function wordsOf(term: TermJudgement, factors: readonly Factor[]): string {
  const [name, ...more] = Object.keys(term.term);
  const factor = factors.find((candidate) => candidate.name === name);
  if (!factor || factor.kind === "category" || more.length > 0 || term.term[factor.name] !== 1)
    return term.label;
  return factor.name;
}

function correlationSentences(terms: readonly TermJudgement[]): readonly string[] {
  const said = new Set<string>();
  return terms.flatMap((term) => {
    if (term.worstCorrelation < WORTH_SAYING || term.worstCorrelation > 1 - 1e-9) return [];
    const pair = [term.label, term.worstCorrelationWith].sort().join("\u0000");
    if (said.has(pair)) return [];
    said.add(pair);
    return [
      `${term.label} moves with ${term.worstCorrelationWith} (correlation ${term.worstCorrelation.toFixed(2)}): each is known less well than it could be.`,
    ];
  });
}

function orderSentences(terms: readonly TermJudgement[]): readonly string[] {
  const moving = terms.filter((term) => Math.abs(term.correlationWithOrder) >= WORTH_SAYING);
  return moving.map(
    (term) =>
      `${term.label} moves with cutting order (correlation ${signed(term.correlationWithOrder)}): steady wear or warm-up would look like an effect of it.`,
  );
}

function errorSentence(judged: Omit<Judgement, "sentences">): string {
  const { df, dfPureError } = judged;
  if (df < 1) {
    return `${judged.runs} runs leave no degree of freedom for error with this model: no interval can be given. Add runs or ask for fewer terms.`;
  }
  const left = `${df} degree${df === 1 ? "" : "s"} of freedom ${df === 1 ? "is" : "are"} left for error`;
  if (dfPureError === 0) {
    return `${left}, none from replicates: what the model misses and the scatter can't be told apart.`;
  }
  return `${left}, ${dfPureError} of them from replicates.`;
}

/** Two figures are as many as a guess of σ deserves. */
function figures(value: number): string {
  return String(Number(value.toPrecision(2)));
}

function chance(power: number): string {
  if (power > 0.995) return "above 0.99";
  return power.toFixed(2);
}

function signed(value: number): string {
  return value < 0 ? `−${Math.abs(value).toFixed(2)}` : value.toFixed(2);
}
