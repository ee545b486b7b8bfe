import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import { quantitiesOf } from "../levels.ts";
import { deskFor, type Desk } from "./assess.ts";
import type { LesserQuestion } from "./choice.ts";
import { questionTerms } from "./question-terms.ts";
import { stakes, type Stake } from "./question.ts";
import { shortlist } from "./shortlist.ts";
import { layoutWords, passWords } from "./words.ts";

/** What is asked before the question in hand, from the most to the least. */
const LESSER: Readonly<Record<Stake, readonly Stake[]>> = {
  "best-setting": ["how-curved", "how-they-combine", "which-matter"],
  "how-curved": ["which-matter"],
  "how-they-combine": ["which-matter"],
  "which-matter": [],
};

/** Questions that the passes at hand do answer, where they are too few for the one that was put. */
export function lesserQuestions(desk: Desk): readonly LesserQuestion[] {
  const { question } = desk;
  const { factors, stake, passes } = question;
  const ofAll = LESSER[stake].flatMap((other) => answered(desk, other, factors));
  const found = [
    ...ofAll,
    ...fewerFactors(desk, stake),
    ...(LESSER[stake].length > 0 && ofAll.length === 0 ? fewerFactors(desk, "which-matter") : []),
  ];
  if (found.length > 0) return found;
  const [first] = factors;
  if (passes >= 2 && first) {
    return [
      {
        stake: "which-matter",
        factors: [first.name],
        layout: { kind: "factorial", seed: question.seed },
        text: `With ${passWords(passes)} you can compare two settings of ${first.name}, all else held: a difference, without any way to say how much of it is scatter.`,
      },
    ];
  }
  return [
    {
      stake: "which-matter",
      factors: [],
      layout: null,
      text: "One pass shows what one setting gives, once. It says nothing about a factor, nor how far a second pass would differ.",
    },
  ];
}

/** The same question about as many of the factors as the passes can bear, the first named first. */
function fewerFactors(desk: Desk, stake: Stake): readonly LesserQuestion[] {
  const { factors } = desk.question;
  const order =
    stake === "how-curved"
      ? [...quantitiesOf(factors), ...factors.filter(({ kind }) => kind === "category")]
      : factors;
  for (let count = factors.length - 1; count >= 1; count -= 1) {
    const found = answered(desk, stake, order.slice(0, count));
    if (found.length > 0) return found;
  }
  return [];
}

/** The same passes, another question, or fewer factors: what would be recommended. */
function answered(desk: Desk, stake: Stake, factors: readonly Factor[]): readonly LesserQuestion[] {
  const { question } = desk;
  const { impossible, columns } = questionTerms(factors, stake);
  // Fewer runs than columns never tell them apart: that saves the search.
  if (impossible !== null || columns > question.passes) return [];
  const [best] = shortlist(deskFor({ ...question, stake, factors })).fitting;
  if (!best || best.answers === "no") return [];
  const held = question.factors.filter(({ name }) => !factors.some((factor) => factor.name === name));
  const about =
    held.length === 0
      ? ""
      : ` of ${listed(factors.map(({ name }) => name))}, with ${listed(held.map(({ name }) => name))} held still`;
  const but =
    best.answers === "yes"
      ? ""
      : best.figures.df < 1
        ? ", but without intervals"
        : ", as long as products of two factors are small";
  return [
    {
      stake,
      factors: factors.map(({ name }) => name),
      layout: best.proposal.layout,
      text: `"${stakes[stake]}"${about}: the ${layoutWords(best)} answers it${but}.`,
    },
  ];
}
