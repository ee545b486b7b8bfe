import type { TrialSpec } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { layOut } from "../lay-out.ts";
import type { Layout } from "../layout.ts";
import type { Answers, CandidateFigures } from "./choice.ts";
import { overLimit, trialOf } from "./cost.ts";
import { figuresOf, tellingsOf, type Tellings } from "./figures.ts";
import type { Proposal } from "./proposal.ts";
import type { CheckedQuestion } from "./question.ts";
import { answersOf, seesOf, worthOf } from "./rank.ts";
import { seeingAt, type Seeing } from "./seeing.ts";

/** A proposal laid out and judged for the question. */
export interface Assessed {
  readonly proposal: Proposal;
  readonly layout: Layout;
  readonly figures: CandidateFigures;
  readonly answers: Answers;
  /** Whether the effect worth knowing is seen with chance 0.8. */
  readonly sees: boolean;
  readonly worth: number;
}

/** A proposal that can't be laid out. */
export interface Unmade {
  readonly proposal: Proposal;
  readonly reason: string;
}

/** What is reckoned once for a question and its relatives: a σ, an effect or more passes change no runs. */
export interface Desk {
  readonly question: CheckedQuestion;
  readonly trial: TrialSpec | null;
  readonly seeing: Seeing;
  readonly made: Map<string, { readonly layout: Layout; readonly tellings: Tellings } | string>;
}

export function deskFor(question: CheckedQuestion): Desk {
  return { question, trial: trialOf(question), seeing: seeingAt(question.confidence), made: new Map() };
}

/** The same desk for a question that differs in σ, effect or passes only. */
export function deskWith(desk: Desk, question: CheckedQuestion): Desk {
  return { ...desk, question };
}

export function assess(desk: Desk, proposal: Proposal): Assessed | Unmade {
  const made = madeOnce(desk, proposal);
  if (typeof made === "string") return { proposal, reason: made };
  const { question, seeing } = desk;
  const figures = figuresOf(question, seeing, made.tellings);
  return {
    proposal,
    layout: made.layout,
    figures,
    answers: answersOf(question, figures),
    sees: seesOf(question, figures),
    worth: worthOf(question, figures, made.layout),
  };
}

export function isAssessed(one: Assessed | Unmade): one is Assessed {
  return "figures" in one;
}

/** Why a stated limit of the trial forbids a layout, or null. */
export function forbidden(desk: Desk, { layout }: Assessed): string | null {
  return overLimit(desk.trial, layout.runs);
}

function madeOnce({ question, made }: Desk, { id, layout }: Proposal) {
  const before = made.get(id);
  if (before !== undefined) return before;
  const found = make(question, layout);
  made.set(id, found);
  return found;
}

function make(question: CheckedQuestion, layout: Proposal["layout"]) {
  try {
    const laid = layOut({ ...(question.trial ?? {}), factors: question.factors, layout });
    return { layout: laid, tellings: tellingsOf(question, laid.runs) };
  } catch (error) {
    // What a kind can't do with these factors (two levels that round to one setting) is told, not thrown.
    if (error instanceof LayoutError) return error.message;
    throw error;
  }
}
