import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { Judgement } from "../judgement.ts";
import { dfText, figures } from "./figures.ts";

/** More terms than this are called the others. */
const MOST_NAMED = 5;

/** What it means that some factors are set only now and then; empty where none is hard to change. */
export function setUpSentences(
  judged: Omit<Judgement, "sentences">,
  factors: readonly Factor[],
): readonly string[] {
  const hard = factors.filter(({ change }) => change === "hard").map(({ name }) => name);
  const { varianceRatio, strata, runs } = judged;
  if (hard.length === 0 || varianceRatio === null) return [];
  const names = listed(hard);
  const verb = hard.length === 1 ? "is" : "are";
  const plots = strata.find(({ name }) => name === "whole plots");
  const within = strata.find(({ name }) => name === "runs");
  if (!plots || !within) {
    return [
      `${names} ${verb} hard to change, but set-ups are taken to add no scatter of their own (variance ratio 0): if they do, these figures promise too much for ${hard.length === 1 ? "it" : "them"}.`,
    ];
  }
  const scatter =
    varianceRatio === 1
      ? "a set-up is taken to scatter as much as a run (variance ratio 1)"
      : `the variance between set-ups is taken as ${figures(varianceRatio)} times that between runs`;
  const sentences = [
    `${names} ${verb} hard to change: ${plots.count} ${plots.count === 1 ? "set-up (whole plot)" : "set-ups (whole plots)"} for ${runs} runs, and ${scatter}.`,
  ];
  const wholeOnly = plots.terms.filter((label) => !within.terms.includes(label));
  const others = judged.terms.length - wholeOnly.length;
  const subplot =
    within.terms.length > MOST_NAMED && others === within.terms.length
      ? "all other terms"
      : listed(within.terms);
  const compared = [
    ...(plots.terms.length > 0 && plots.dfError > 0
      ? [`${listed(plots.terms)} by the scatter between set-ups (${dfText(plots.dfError)})`]
      : []),
    ...(within.terms.length > 0 && within.dfError > 0
      ? [`${subplot} by that between runs of a set-up (${dfText(within.dfError)})`]
      : []),
  ];
  if (compared.length > 0) sentences.push(`Judged are ${compared.join(", ")}.`);
  return sentences;
}
