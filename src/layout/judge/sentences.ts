import { differenceUnit, listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { Judgement, TermJudgement } from "../judgement.ts";
import { chance, figures, percentOf, signed } from "./figures.ts";
import { setUpSentences } from "./set-up-sentences.ts";

/** Correlations and shares above this are worth a sentence: a tenth of the variance is shared. */
const WORTH_SAYING = 0.3;
/** So many sentences of one sort; the rest is counted, and stands in the tables. */
const MOST_ALIKE = 4;

type Judged = Omit<Judgement, "sentences">;

/** A judgement in plain words: what is known to what width, what is seen with what chance, what can't be told. */
export function judgementSentences(
  judged: Judged,
  factors: readonly Factor[],
  unit: string,
  untested: readonly string[],
): readonly string[] {
  const withUnit = (value: number) => figures(value) + (unit ? ` ${differenceUnit(unit)}` : "");
  return [
    ...widthSentences(judged, factors, withUnit),
    ...setSentences(judged, withUnit),
    ...judged.inseparable.map((set) => set.text),
    ...untested,
    ...atMost(correlationSentences(judged.terms), "pairs of terms move together by 0.3 or more"),
    ...atMost(biasSentences(judged, withUnit), "terms would be moved by what the model leaves out"),
    ...atMost(orderSentences(judged.terms), "terms move with cutting order"),
    ...atMost(minutesSentences(judged.terms), "terms move with minutes of cut"),
    ...setUpSentences(judged, factors),
    ...lossSentences(judged),
    errorSentence(judged),
  ];
}

function atMost(sentences: readonly string[], rest: string): readonly string[] {
  if (sentences.length <= MOST_ALIKE) return sentences;
  return [...sentences.slice(0, MOST_ALIKE - 1), `${sentences.length - MOST_ALIKE + 1} more ${rest}.`];
}

function widthSentences(
  judged: Judged,
  factors: readonly Factor[],
  withUnit: (value: number) => string,
): readonly string[] {
  const percent = percentOf(judged.confidence);
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

/** Sets that are seen with one chance stand in one sentence. */
function setSentences({ sets, effect }: Judged, withUnit: (value: number) => string): readonly string[] {
  if (effect === null) return [];
  const groups = new Map<string, string[]>();
  for (const { label, power } of sets) {
    if (power === null) continue;
    const seen = power > 0.995 ? "above 0.99" : `at least ${chance(power)}`;
    groups.set(seen, [...(groups.get(seen) ?? []), label]);
  }
  return [...groups].map(([seen, labels]) => {
    const subject =
      labels.length === 1 ? `One F test of ${labels[0]}` : `One F test each of ${listed(labels)}`;
    return `${subject}: where one of the effects tested together is ${withUnit(effect)}, that there is something is seen with chance ${seen}.`;
  });
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

function biasSentences({ terms }: Judged, withUnit: (value: number) => string): readonly string[] {
  return terms.flatMap(({ label, worstBias }) => {
    if (!worstBias || Math.abs(worstBias.share) < WORTH_SAYING) return [];
    const { omitted, share, shift } = worstBias;
    if (Math.abs(Math.abs(share) - 1) < 1e-9)
      return [
        `${label} can't be told from ${omitted}, which the model leaves out: what is found may be either.`,
      ];
    const by =
      shift === null
        ? `${figures(Math.abs(share))} of its effect`
        : `${withUnit(Math.abs(shift))} if its effect is ${withUnit(Math.abs(shift / share))}`;
    return [`${omitted}, which the model leaves out, would move ${label} by ${by}.`];
  });
}

function orderSentences(terms: readonly TermJudgement[]): readonly string[] {
  const moving = terms.filter((term) => Math.abs(term.correlationWithOrder) >= WORTH_SAYING);
  return moving.map(
    (term) =>
      `${term.label} moves with cutting order (correlation ${signed(term.correlationWithOrder)}): steady wear or warm-up would look like an effect of it.`,
  );
}

/** Where the order says it already, the minutes add nothing. */
function minutesSentences(terms: readonly TermJudgement[]): readonly string[] {
  return terms.flatMap(({ label, correlationWithMinutes: found, correlationWithOrder: order }) =>
    found === null || Math.abs(found) < WORTH_SAYING || Math.abs(order) >= WORTH_SAYING
      ? []
      : [
          `${label} moves with the minutes of cut so far (correlation ${signed(found)}): wear would look like an effect of it.`,
        ],
  );
}

/** A run whose loss widens intervals by less than this is not worth a sentence of its own. */
const LITTLE = 1.05;

function lossSentences({ worstLoss, df }: Judged): readonly string[] {
  if (worstLoss === null) return [];
  const { run, growth, label, lost } = worstLoss;
  if (lost.length > 0) {
    // With as many terms as runs every run carries something; that is said once, by the error sentence.
    return df < 1
      ? []
      : [`Without run ${run} ${listed(lost)} can't be told: cut it with care, or cut it twice.`];
  }
  if (growth < LITTLE)
    return ["No single run is missed much: without any one of them no standard error grows by 5 %."];
  return [
    `Should one run be lost, run ${run} is missed most: the standard error of ${label} grows by ${Math.round(100 * (growth - 1))} %.`,
  ];
}

function errorSentence(judged: Judged): string {
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
