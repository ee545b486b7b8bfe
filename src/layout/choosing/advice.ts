import { isAssessed, type Assessed, type Desk, type Unmade } from "./assess.ts";
import type { Enough, LesserQuestion, SigmaAdvice } from "./choice.ts";
import { askedGroup, NEGLIGIBLE_LEANING } from "./rank.ts";
import { stakes } from "./question.ts";
import { hardUntold } from "./tells.ts";
import { chanceWords, effectWords, figures, layoutWords, passWords, sizeWords } from "./words.ts";

interface Found {
  readonly best: Assessed | null;
  readonly fitting: readonly Assessed[];
  readonly refused: readonly Unmade[];
  readonly enough: Enough;
  readonly instead: readonly LesserQuestion[];
  readonly sigma: SigmaAdvice;
}

/** The advice in a few sentences, as one engineer would give it to another. */
export function adviceOf(
  desk: Desk,
  { best, fitting, refused, enough, instead, sigma }: Found,
): readonly string[] {
  const { question } = desk;
  if (!best) {
    const overLimits = refused.length > 0 && (enough.toAnswer ?? Number.POSITIVE_INFINITY) <= question.passes;
    return [
      ...(overLimits
        ? [`Every layout that would answer is over a stated limit. ${refused[0]?.reason ?? ""}`]
        : enough.sentences),
      ...(instead.length > 0 && !overLimits
        ? [`With ${passWords(question.passes)} you can ask:`, ...instead.map(({ text }) => text)]
        : []),
    ];
  }
  return [
    `${stakes[question.stake]} Take the ${layoutWords(best)}. ${reasonOf(desk, best, fitting)}`,
    ...enough.sentences,
    ...sigma.sentences,
  ];
}

/** Why a layout is recommended: what it does, and what the next best of another kind would do instead. */
export function reasonOf(desk: Desk, best: Assessed, fitting: readonly Assessed[]): string {
  const other = fitting.find(
    (one) =>
      isAssessed(one) && one.answers !== "no" && one.proposal.layout.kind !== best.proposal.layout.kind,
  );
  return [
    `It ${merits(desk, best)}.`,
    ...reservations(desk, best),
    ...(other ? [besides(desk, best, other)] : []),
  ].join(" ");
}

function merits(desk: Desk, best: Assessed): string {
  const { question } = desk;
  const { figures: found } = best;
  const group = askedGroup(question, found);
  const parts: string[] = [];
  if (question.stake === "best-setting") {
    const width = predictedWidth(best);
    if (width !== null)
      parts.push(
        `tells the whole curved surface, predictions good to ± ${sizeWords(question, width)} on average`,
      );
    else parts.push("tells the whole curved surface");
  } else if (question.effect !== undefined && group.chance !== null) {
    parts.push(`sees ${effectWords(question)} with chance ${chanceWords(group.chance)}`);
  } else if (group.seenInSigma !== null) {
    parts.push(`sees effects from ${sizeWords(question, group.seenInSigma)} on`);
  } else if (found.df < 1) {
    parts.push("compares the effects with one another");
  }
  const pairs = found.products.of;
  if (pairs > 0 && question.stake === "which-matter") {
    if (found.products.told === pairs) parts.push("tells products of two factors apart as well");
    else if (found.worstLeaning <= NEGLIGIBLE_LEANING)
      parts.push("keeps main effects clear of products of two factors");
  }
  if (found.bend === "together") parts.push("shows whether anything bends");
  if (found.bend === "each" && question.stake === "which-matter") parts.push("shows which factor bends");
  if (found.dfPureError >= 2) parts.push("measures the scatter by replicates");
  return parts.length > 1
    ? `${parts.slice(0, -1).join(", ")} and ${parts[parts.length - 1]}`
    : (parts[0] ?? "fits");
}

function reservations({ question }: Desk, { figures: found, layout }: Assessed): readonly string[] {
  const said: string[] = [];
  const untold = hardUntold(question.factors, layout, found);
  if (untold !== null) said.push(`But ${untold}`);
  if (found.df < 1) said.push("But nothing is left for error, so no interval can be given.");
  else if (found.df < 3) {
    said.push(
      `But only ${found.df} degree${found.df === 1 ? "" : "s"} of freedom ${found.df === 1 ? "is" : "are"} left for error, so intervals are wide.`,
    );
  }
  if (found.worstLeaning > NEGLIGIBLE_LEANING) {
    said.push(
      found.worstLeaning > 1 - 1e-6
        ? "Each effect it finds may be a product of two other factors: cut the mirror image (a fold) before you act on one."
        : `What it tells leans on products of two factors by up to ${found.worstLeaning.toFixed(2)} of their size.`,
    );
  }
  return said;
}

/** What the next best would do better, and what worse. */
function besides(desk: Desk, best: Assessed, other: Assessed): string {
  const [mine, theirs] = [gains(desk, best, other), gains(desk, other, best)];
  const subject = `The ${layoutWords(other)}`;
  if (theirs.length === 0)
    return mine.length === 0
      ? `${subject} does as well.`
      : `${subject} comes next; it ${losses(desk, best, other)}.`;
  return `${subject} ${theirs.join(" and ")}${mine.length > 0 ? `, but ${losses(desk, best, other)}` : ""}.`;
}

function gains(desk: Desk, one: Assessed, other: Assessed): readonly string[] {
  const { question } = desk;
  const [a, b] = [one.figures, other.figures];
  const said: string[] = [];
  const saved = other.proposal.runs - one.proposal.runs;
  if (saved > 0) said.push(`takes ${saved} run${saved === 1 ? "" : "s"} fewer`);
  const [mine, theirs] = [askedGroup(question, a).chance ?? 0, askedGroup(question, b).chance ?? 0];
  if (question.stake === "best-setting") {
    const [own, their] = [predictedWidth(one), predictedWidth(other)];
    if (own !== null && (their === null || own < 0.95 * their))
      said.push(`predicts to ± ${sizeWords(question, own)}`);
  } else if (mine > theirs + 0.02)
    said.push(`sees ${effectWords(question)} with chance ${chanceWords(mine)}`);
  if (a.worstLeaning <= NEGLIGIBLE_LEANING && b.worstLeaning > NEGLIGIBLE_LEANING)
    said.push("keeps its answers clear of products of two factors");
  if (a.bend === "each" && b.bend !== "each") said.push("shows which factor bends");
  else if (a.bend === "together" && b.bend === "no") said.push("shows whether anything bends");
  if (a.dfPureError > b.dfPureError && b.dfPureError < 2) said.push("measures the scatter by replicates");
  return said;
}

/** What the other does worse than the best, as the end of a sentence about the other. */
function losses(desk: Desk, best: Assessed, other: Assessed): string {
  const { question } = desk;
  const [a, b] = [best.figures, other.figures];
  if (b.df < 1 && a.df >= 1) return "leaves nothing for error";
  if (b.worstLeaning > NEGLIGIBLE_LEANING && a.worstLeaning <= NEGLIGIBLE_LEANING)
    return `leans on products of two factors by up to ${figures(b.worstLeaning)} of their size`;
  const chance = askedGroup(question, b).chance;
  if (question.stake === "best-setting") {
    const [own, their] = [predictedWidth(best), predictedWidth(other)];
    if (their !== null && own !== null && their > 1.02 * own)
      return `predicts only to ± ${sizeWords(question, their)}`;
  } else if (chance !== null && chance < (askedGroup(question, a).chance ?? 0) - 0.02)
    return `sees ${effectWords(question)} with chance ${chanceWords(chance)} only`;
  if (a.bend !== b.bend && b.bend === "no") return "does not see a bend";
  if (a.dfPureError > b.dfPureError) return "has fewer replicates to measure the scatter by";
  const more = other.proposal.runs - best.proposal.runs;
  if (more > 0) return `takes ${more} run${more === 1 ? "" : "s"} more`;
  return "is worth a little less by the rule";
}

function predictedWidth({ figures: found }: Assessed): number | null {
  return found.prediction?.halfWidthInSigma ?? null;
}
