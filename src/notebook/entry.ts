import type { Figure, FigureTable } from "../figure/index.ts";
import type { Remark } from "../review/index.ts";

/** One piece of a notebook page. Plain data: it crosses from the worker to the page as it is. */
export type Entry =
  | { readonly kind: "prose"; readonly markdown: string }
  | { readonly kind: "heading"; readonly text: string }
  | { readonly kind: "figure"; readonly figure: Figure; readonly caption: string }
  | { readonly kind: "table"; readonly table: FigureTable; readonly caption: string }
  /** By which method what stands above was found, and where that method is published. */
  | { readonly kind: "method"; readonly text: string }
  | { readonly kind: "remarks"; readonly remarks: readonly Remark[] }
  | { readonly kind: "cautions"; readonly cautions: readonly string[] }
  | AskEntry
  | { readonly kind: "progress"; readonly label: string; readonly done: number; readonly of: number }
  | { readonly kind: "error"; readonly message: string; readonly file: string; readonly line: number | null };

/** A question to the reader; `answer` is what this run of the notebook used. */
export type AskEntry = {
  readonly kind: "ask";
  readonly label: string;
  /** Empty where the answer was taken; else why the answer typed was refused. */
  readonly refusal: string;
} & (
  | { readonly ask: "quantity"; readonly answer: string; readonly unit: string }
  | { readonly ask: "number"; readonly answer: string }
  | { readonly ask: "choice"; readonly answer: string; readonly choices: readonly string[] }
  | { readonly ask: "yes-no"; readonly answer: "yes" | "no" }
);

/** The title block at the foot of a page. */
export interface TitleBlock {
  readonly title: string;
  readonly trial: string;
  readonly question: string;
  readonly units: string;
  /** ISO date. */
  readonly date: string;
  readonly checksum: string;
  /** "measured", "published" or "invented"; empty where no trial was opened. */
  readonly dataKind: string;
  readonly source: string;
  readonly softwareVersion: string;
}

/** What a run of a notebook leaves. */
export interface Page {
  readonly title: string;
  readonly entries: readonly Entry[];
  readonly titleBlock: TitleBlock;
  /** Files that the page depended on: the notebook, its imports, the trials' files. */
  readonly dependencies: readonly string[];
}
