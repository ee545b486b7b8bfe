import { differenceUnit, listed } from "../../units/index.ts";
import type { Judgement, TermJudgement } from "../judgement.ts";
import type { GrowthJudgement } from "./growth.ts";

/** Freed effects beyond this many are counted, not listed. */
const MOST_SENTENCES = 8;

/** Figures of σ, or of the response where σ is known. */
export interface Measure {
  /** Behind a number: "µm", or "σ" where σ is not known. */
  readonly unit: string;
}

/** What the added runs bring, in plain words: how far intervals narrow, what no longer hides in what, what still does. */
export function broughtBy({ before, after }: GrowthJudgement, { unit }: Measure): readonly string[] {
  const pairs = after.terms.map((term, index) => ({ was: before.terms[index], is: term }));
  return [
    ...narrowed(pairs, unit),
    ...freed(before, after),
    ...stillHidden(after),
    ...errorLeft(before, after),
  ];
}

interface Pair {
  readonly was: TermJudgement | undefined;
  readonly is: TermJudgement;
}

function narrowed(pairs: readonly Pair[], unit: string): readonly string[] {
  const groups = new Map<string, string[]>();
  for (const { was, is } of pairs) {
    if (is.halfWidth === null) continue;
    const now = `± ${figures(is.halfWidth)} ${differenceUnit(unit)}`.trim();
    const text =
      (was?.standardError ?? null) === null || was === undefined
        ? `could not be told before and will be known to ${now}`
        : was.halfWidth === null
          ? `had no interval before and will be known to ${now}`
          : change(was.halfWidth, is.halfWidth, unit);
    groups.set(text, [...(groups.get(text) ?? []), is.label]);
  }
  return [...groups].map(([text, labels]) => `${named(labels)}: ${text}.`);
}

function change(was: number, is: number, unit: string): string {
  const [from, to] = [`± ${figures(was)} ${differenceUnit(unit)}`.trim(), `± ${figures(is)} ${unit}`.trim()];
  if (from === to) return `stays at ${to}`;
  return is < was ? `${from} becomes ${to}` : `${from} becomes ${to}, for the new block takes its share`;
}

function named(labels: readonly string[]): string {
  return labels.length <= MOST_SENTENCES
    ? listed(labels)
    : `${labels.slice(0, MOST_SENTENCES).join(", ")} and ${labels.length - MOST_SENTENCES} more`;
}

/** "feed × speed no longer hides in depth." */
function freed(before: Judgement, after: Judgement): readonly string[] {
  const told = new Set(
    after.terms.filter(({ standardError }) => standardError !== null).map(({ label }) => label),
  );
  const sentences = before.inseparable.flatMap(({ labels }) => {
    const hidden = labels.at(-1);
    // Beside another effect the mean says nothing to a reader.
    const others = labels.slice(0, -1).filter((label) => label !== "mean");
    if (hidden === undefined || !told.has(hidden)) return [];
    if (others.length === 0) return [`${hidden} moves now, and can be told.`];
    return [`${hidden} no longer hides in ${listed(others)}.`];
  });
  if (sentences.length <= MOST_SENTENCES) return sentences;
  return [
    ...sentences.slice(0, MOST_SENTENCES),
    `So it is with ${sentences.length - MOST_SENTENCES} more effects.`,
  ];
}

function stillHidden({ inseparable }: Judgement): readonly string[] {
  const sentences = inseparable
    .slice(0, MOST_SENTENCES)
    .map(({ labels }) =>
      labels.length === 1
        ? `${labels[0]} still never moves.`
        : `${listed(labels)} still can't be told apart.`,
    );
  const more = inseparable.length - sentences.length;
  return more > 0 ? [...sentences, `So it is with ${more} more sets of effects.`] : sentences;
}

function errorLeft(before: Judgement, after: Judgement): readonly string[] {
  if (after.df < 1)
    return ["No degree of freedom is left for error afterwards: no interval can be given yet."];
  const pure =
    after.dfPureError > before.dfPureError
      ? `; from replicates ${before.dfPureError} become ${after.dfPureError}`
      : "";
  return [`Degrees of freedom for error: ${Math.max(0, before.df)} become ${after.df}${pure}.`];
}

/** Two figures are as many as a guess of σ deserves. */
export function figures(value: number): string {
  return String(Number(value.toPrecision(2)));
}
