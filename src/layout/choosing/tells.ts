import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { Layout } from "../layout.ts";
import { quantitiesOf } from "../levels.ts";
import { setUpsOf } from "./cost.ts";
import type { Assessed, Desk } from "./assess.ts";
import type { CandidateFigures, GroupFigures, Leaning } from "./choice.ts";
import { productsOf, squaresOf } from "./question-terms.ts";
import { NEGLIGIBLE_LEANING } from "./rank.ts";
import { capital, chanceWords, effectWords, figures, sizeWords, someOf } from "./words.ts";

/** In plain words: what a layout can tell. */
export function tells(desk: Desk, { figures: found }: Assessed): readonly string[] {
  const { question } = desk;
  const said: string[] = [];
  const add = (text: string | null) => {
    if (text !== null) said.push(text);
  };
  add(
    groupSentence(
      desk,
      question.factors.length === 1 ? `the effect of ${question.factors[0]?.name}` : "each main effect",
      found.mainEffects,
    ),
  );
  if (productsOf(question.factors).length > 0 && found.products.told === found.products.of)
    add(groupSentence(desk, "how much one factor changes the effect of another", found.products));
  if (squaresOf(question.factors).length > 0) {
    if (found.squares.told === found.squares.of)
      add(
        groupSentence(desk, found.squares.of === 1 ? "the bend" : "the bend of each quantity", found.squares),
      );
    else if (found.bend === "together") add("Whether anything bends is seen, not which factor it is.");
  }
  const width = found.prediction?.halfWidthInSigma ?? null;
  if (question.stake === "best-setting" && width !== null) {
    add(`A predicted mean is good to ± ${sizeWords(question, width)} over the region, on average.`);
  }
  if (found.dfPureError > 0) {
    add(
      `${found.dfPureError} degree${found.dfPureError === 1 ? "" : "s"} of freedom from replicates: the scatter is known apart from what the model misses.`,
    );
  }
  return said;
}

function groupSentence({ question }: Desk, subject: string, group: GroupFigures): string | null {
  if (group.halfWidthInSigma === null || group.seenInSigma === null || group.chance === null) return null;
  const percent = figures(100 * question.confidence);
  const least = group.leastHalfWidthInSigma ?? group.halfWidthInSigma;
  // Factors that are hard to change are known less well than the others: one number would hide that.
  const apart = least < 0.9 * group.halfWidthInSigma;
  const width = apart
    ? `${capital(subject)} will be known to between ± ${sizeWords(question, least)} and ± ${sizeWords(question, group.halfWidthInSigma)} (${percent} %)`
    : `${capital(subject)} will be known to ± ${sizeWords(question, group.halfWidthInSigma)} (${percent} %)`;
  return question.effect === undefined
    ? `${width}, and seen from ${sizeWords(question, group.seenInSigma)} on (chance 0.8${apart ? ", the one known least" : ""}).`
    : `${width}; ${effectWords(question)} is seen with chance ${chanceWords(group.chance)}${apart ? " at worst" : ""}.`;
}

/** In plain words: what it can't tell, and what may mislead. */
export function cannotTell({ question }: Desk, { figures: found, layout }: Assessed): readonly string[] {
  const { factors } = question;
  const said: string[] = [];
  const { mainEffects, products, squares } = found;
  if (mainEffects.told < mainEffects.of) said.push("Not every main effect can be told from the others.");
  if (found.worstLeaning > NEGLIGIBLE_LEANING && found.leanings.length > 0)
    said.push(leaningSentence(found.leanings));
  if (products.of > 0 && products.told < products.of)
    said.push(productSentence(products, layout.aliases ?? []));
  if (quantitiesOf(factors).length > 0 && found.bend === "no") {
    said.push("A bend between low and high is not seen: nothing is cut in between.");
  } else if (found.bend === "together" && squares.told < squares.of && question.stake !== "which-matter") {
    said.push("Which factor bends is not told.");
  }
  const untold = hardUntold(question.factors, layout, found);
  if (untold !== null) said.push(untold);
  else if (found.df < 1) {
    said.push(
      "Nothing is left for error: effects can be compared with one another, and no interval can be given.",
    );
  } else if (found.df < 3) {
    said.push(
      `Only ${found.df} degree${found.df === 1 ? "" : "s"} of freedom ${found.df === 1 ? "is" : "are"} left for error, so intervals are wide.`,
    );
  } else if (found.dfPureError === 0) {
    said.push("Nothing is cut twice: the scatter and what the model misses can't be told apart.");
  }
  return said;
}

/** Where nothing is left between set-ups: the hard factors' effects can't be told from the scatter of setting up. */
export function hardUntold(
  factors: readonly Factor[],
  { runs }: Pick<Layout, "runs">,
  { mainEffects, df }: CandidateFigures,
): string | null {
  const hard = factors.filter(({ change }) => change === "hard").map(({ name }) => name);
  if (hard.length === 0 || df < 1 || mainEffects.df > 0) return null;
  const setUps = setUpsOf(factors, runs);
  return `${listed(hard)} ${hard.length === 1 ? "is" : "are"} set up ${setUps === 2 ? "twice" : `${setUps} times`} in all: what ${hard.length === 1 ? "it does" : "they do"} can't be told from the scatter of setting up, so no interval can be given for ${hard.length === 1 ? "it" : "them"}.`;
}

/** Leanings of the whole, and in part. */
function leaningSentence(leanings: readonly Leaning[]): string {
  const whole = leanings.filter(({ share }) => Math.abs(share) > 1 - 1e-6);
  if (whole.length > 0) {
    const pairs = [...new Map(whole.map((entry) => [entry.on, entry])).values()].map(
      ({ on, hidden }) => `${on} with ${hidden}`,
    );
    return `Main effects are mixed up with products of two factors, wholly: ${someOf(pairs, 3)}. What looks like one may be the other.`;
  }
  const worst = Math.abs(leanings[0]?.share ?? 0).toFixed(2);
  return `What is told leans on products of two factors that are left out, by up to ${worst} of their size: trust it only where such products are small.`;
}

function productSentence(products: GroupFigures, aliases: readonly string[]): string {
  const group = aliases.find((text) => (text.match(/ × /g) ?? []).length >= 2 && text.includes("="));
  if (products.told === 0) {
    return group
      ? `Products of two factors can't be told one by one: ${group}, for one.`
      : "Whether one factor changes the effect of another can't be told.";
  }
  return `Only ${products.told} of ${products.of} products of two factors can be told apart.`;
}
