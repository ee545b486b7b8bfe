import type { DraftProblem } from "./api.ts";

// What the bench answers about choosing, comparing and searching: plain JSON, as in api.ts.

/** One line told by a search for runs. */
export type SearchTold =
  | {
      readonly kind: "under-way";
      readonly starts: number;
      readonly startsDone: number;
      readonly text: string;
    }
  | { readonly kind: "done" }
  | { readonly kind: "failed"; readonly message: string };

/** A layout that fits the question and the passes at hand. */
export interface CandidateView {
  readonly id: string;
  readonly title: string;
  /** What the form holds once it is taken. */
  readonly layout: { readonly kind: string; readonly options: Readonly<Record<string, string>> };
  readonly runs: number;
  readonly answers: "yes" | "with-reservation" | "no";
  /** "passes 12", "minutes 40 of 120". */
  readonly cost: readonly string[];
  readonly tells: readonly string[];
  readonly cannot: readonly string[];
  /** Why it is recommended; empty where it is not. */
  readonly recommended: string;
}

/** Layouts side by side. */
export interface ChoiceAnswer {
  /** What must be said or mended first. */
  readonly problems: readonly DraftProblem[];
  readonly candidates: readonly CandidateView[];
  /** HTML of the figure of them all, from the library. */
  readonly figures: readonly string[];
  /** The advice, how many passes would do, what is known of the scatter: in sentences. */
  readonly advice: readonly string[];
  /** Smaller questions that the passes at hand answer. */
  readonly instead: readonly {
    readonly text: string;
    readonly layout: CandidateView["layout"] | null;
  }[];
  /** Layouts that can't be cut, each with its reason. */
  readonly refused: readonly string[];
}

/** Two layouts beside each other: one text a line and layout. */
export interface ComparisonAnswer {
  readonly titles: readonly string[];
  readonly lines: readonly { readonly what: string; readonly texts: readonly string[] }[];
  /** HTML of figures of both, from the library. */
  readonly figures: readonly string[];
  /** HTML of figures of each layout. */
  readonly own: readonly (readonly string[])[];
}
