import { differenceUnit } from "../../units/index.ts";
import { chiSquareQuantile } from "../../numerics/index.ts";
import type { Settings } from "../../trial/index.ts";
import { deskWith, type Assessed, type Desk } from "./assess.ts";
import type { SigmaAdvice, TwoStages } from "./choice.ts";
import { checkedQuestion } from "./question.ts";
import { askedGroup } from "./rank.ts";
import { shortlist } from "./shortlist.ts";
import { capital, chanceWords, effectWords, figures, passWords } from "./words.ts";

/** Passes at one setting that are worth offering to learn σ. */
const FIRST_PASSES: readonly number[] = [3, 4, 5, 6, 8, 10];

/** What is known of the scatter, what that does to the plan, and how to learn more of it. */
export function sigmaAdvice(desk: Desk, best: Assessed | null): SigmaAdvice {
  const { question } = desk;
  const { sigmaRange, effect } = question;
  const known = sigmaRange === null ? "unknown" : sigmaRange[0] === sigmaRange[1] ? "value" : "range";
  const learnFirst =
    known === "value"
      ? []
      : FIRST_PASSES.map((passes) => ({ passes, ...sigmaInterval(passes - 1, question.confidence) }));
  const largestThatSees = best && effect !== undefined ? largestSigma(desk, best) : null;
  const ends = known === "range" && sigmaRange ? sigmaRange.map((sigma) => endOf(desk, sigma)) : [];
  const twoStages = known === "value" || !best ? null : stagesOf(desk, best);
  return {
    known,
    low: sigmaRange?.[0] ?? null,
    high: sigmaRange?.[1] ?? null,
    largestThatSees,
    learnFirst,
    ends,
    twoStages,
    sentences: [
      ...rangeSentences(desk, best, ends),
      ...(largestThatSees === null || known === "value" || !best ? [] : [largestText(desk, largestThatSees)]),
      ...(twoStages ? [twoStages.text] : []),
    ],
  };
}

/** σ lies between these multiples of the standard deviation that is found: chi-square, `df` degrees of freedom. */
export function sigmaInterval(
  df: number,
  confidence: number,
): { readonly from: number; readonly to: number } {
  return {
    from: Math.sqrt(df / chiSquareQuantile((1 + confidence) / 2, df)),
    to: Math.sqrt(df / chiSquareQuantile((1 - confidence) / 2, df)),
  };
}

function largestText(desk: Desk, sigma: number): string {
  const { question } = desk;
  const does =
    question.stake === "best-setting"
      ? `predicts to ± ${figures(question.effect ?? 0)}${question.unit ? ` ${differenceUnit(question.unit)}` : ""} on average`
      : `sees ${effectWords(question)} with chance 0.8`;
  return `The recommended layout ${does} as long as σ is at most ${withUnit(desk, sigma)}.`;
}

/** What is seen is a multiple of σ whatever σ is: the effect over that multiple. */
function largestSigma({ question }: Desk, { figures: found }: Assessed): number | null {
  const { effect, stake } = question;
  const inSigma =
    stake === "best-setting"
      ? (found.prediction?.halfWidthInSigma ?? null)
      : askedGroup(question, found).seenInSigma;
  return effect === undefined || inSigma === null ? null : effect / inSigma;
}

function endOf(desk: Desk, sigma: number): SigmaAdvice["ends"][number] {
  const question = checkedQuestion({ ...desk.question, sigma });
  const [first] = shortlist(deskWith(desk, question)).fitting;
  const best = first && first.answers !== "no" ? first : null;
  return {
    sigma,
    recommended: best?.proposal.id ?? null,
    title: best?.proposal.title ?? null,
    runs: best?.proposal.runs ?? null,
    chance: best ? askedGroup(question, best.figures).chance : null,
  };
}

function rangeSentences(desk: Desk, best: Assessed | null, ends: SigmaAdvice["ends"]): readonly string[] {
  const { question } = desk;
  const [low, high] = ends;
  if (!low || !high || !best) return [];
  const from = `${withUnit(desk, low.sigma)} to ${withUnit(desk, high.sigma)}`;
  const chances =
    question.effect === undefined ||
    low.chance === null ||
    high.chance === null ||
    question.stake === "best-setting"
      ? ""
      : ` ${capital(effectWords(question))} is seen with chance ${chanceWords(low.chance)} at the low end and ${chanceWords(high.chance)} at the high one.`;
  if (low.recommended === high.recommended)
    return [`With σ anywhere from ${from} the recommendation is the same.${chances}`];
  return [
    `With σ = ${withUnit(desk, low.sigma)} it would be ${endWords(low)}, with ${withUnit(desk, high.sigma)} ${endWords(high)}: learn σ before you settle.${chances}`,
  ];
}

function endWords({ title, runs }: SigmaAdvice["ends"][number]): string {
  return title === null ? "none" : `the ${title} (${runs ?? 0} runs)`;
}

/** Passes of the first stage where the layout has no centre runs to begin with. */
const FIRST_STAGE = 5;

/** Learn σ first, with passes that belong to the trial: its centre runs, or one of its runs cut a few times over. */
function stagesOf({ question }: Desk, best: Assessed): TwoStages {
  const { runs } = best.layout;
  const centre = runs.filter(({ role }) => role === "centre");
  const settings = (centre[0] ?? runs[0])?.settings ?? {};
  const alike = runs.filter((run) => sameSettings(run.settings, settings)).length;
  // One of the runs at this setting is kept for the end, so that drift since the first stage would show.
  const own = alike >= 3 ? alike - 1 : 1;
  const passes = Math.max(own, FIRST_STAGE);
  const { from, to } = sigmaInterval(passes - 1, question.confidence);
  const extra = passes - own;
  return {
    settings,
    passes,
    ofTheTrial: own,
    extra,
    from,
    to,
    text: `To learn σ first, cut ${passWords(passes)} at ${centre.length > 0 ? "the centre" : "one setting of the layout"}: σ is then known from ${figures(from)} to ${figures(to)} times what they show (${figures(100 * question.confidence)} %). ${
      extra === 0
        ? "All of them belong to the trial"
        : `${own === 1 ? "One of them belongs" : `${own} of them belong`} to the trial and ${extra} ${extra === 1 ? "is" : "are"} cut besides`
    }; choose again with that σ before the rest is cut, and keep them as a block of their own if the set-up is touched in between.`,
  };
}

function sameSettings(one: Settings, other: Settings): boolean {
  return Object.keys(one).every((name) => one[name] === other[name]);
}

function withUnit({ question }: Desk, sigma: number): string {
  return figures(sigma) + (question.unit ? ` ${differenceUnit(question.unit)}` : "");
}
