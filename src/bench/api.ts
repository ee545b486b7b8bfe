import type { FitMethods } from "../model/index.ts";
import type { TitleBlock } from "../notebook/index.ts";
import type { Draft, OutlookDraft } from "./draft.ts";
import type { RecipeForm } from "./recipe-form.ts";

// What the bench answers: plain JSON, made from the return values of the library and nothing else.

/** What the client is told before it shows anything. */
export interface Session {
  /** The name of the project's folder. */
  readonly project: string;
  /** ISO 8601. */
  readonly now: string;
}

/** What to do next with a trial, and on which sheet. */
export interface NextStep {
  readonly sheet: TrialSheet;
  /** In words, beginning with a verb. */
  readonly text: string;
}

export type TrialSheet = "plan" | "run-sheet" | "review" | "finding" | "import";

/** One line of the list of trials. */
export type TrialListing =
  | {
      readonly name: string;
      readonly title: string;
      readonly question: string;
      readonly dataKind: string;
      readonly runs: number;
      readonly runsRead: number;
      readonly next: NextStep;
      readonly problem: null;
    }
  | { readonly name: string; readonly problem: string };

export interface TrialsAnswer {
  readonly trials: readonly TrialListing[];
}

/** The head of each sheet of a trial, and its title block. */
export interface TrialHead {
  readonly name: string;
  readonly title: string;
  readonly question: string;
  readonly dataKind: string;
  readonly source: string;
  readonly units: string;
  readonly checksum: string;
  readonly date: string;
  readonly runs: number;
  /** Runs that have a reading in use of every response. */
  readonly runsRead: number;
  /** What happened to the files outside the bench, and what could not be written. */
  readonly notices: readonly string[];
}

export interface FactorView {
  readonly name: string;
  readonly kind: "quantity" | "category";
  /** "0.08 to 0.24 mm/rev", "fresh, used". */
  readonly range: string;
  readonly unit: string;
  readonly levels: readonly string[];
  readonly hardToChange: boolean;
}

export interface PlannedRunView {
  readonly run: number;
  readonly standard: number;
  readonly block: number;
  readonly role: string;
  /** One text a factor, in the order of the factors, with its unit. */
  readonly settings: readonly string[];
  /** One text for each of `PlanView.conditions`. */
  readonly conditions: readonly string[];
  /** What is at hand and does not reach this run, in sentences. */
  readonly endsBefore: readonly string[];
  /** What is set up before this run, where factors are hard to change; empty where the set-up stays. */
  readonly setUp: string;
}

/** One thing that a plan uses up, against what is at hand. */
export interface CostLine {
  readonly what: string;
  readonly used: string;
  /** Empty where no budget is stated. */
  readonly atHand: string;
  /** Used by at hand; null where no budget is stated. */
  readonly share: number | null;
}

/** What a plan can tell about one term. */
export interface OutlookRow {
  readonly label: string;
  readonly halfWidth: string;
  readonly power: string;
  readonly withOrder: string;
  readonly worst: string;
  /** True where the order follows the term so closely that drift can't be told from it. */
  readonly followsOrder: boolean;
}

export interface OutlookView {
  readonly sentences: readonly string[];
  readonly rows: readonly OutlookRow[];
  readonly inseparable: readonly string[];
  /** Said where no σ was given: half-widths are then in multiples of it. */
  readonly note: string;
  /** HTML of the figures, from the library. */
  readonly figures: readonly string[];
}

export interface PlanView {
  readonly factors: readonly FactorView[];
  readonly held: readonly (readonly [string, string])[];
  readonly conditions: readonly string[];
  readonly runs: readonly PlannedRunView[];
  readonly blocks: number;
  readonly orderRules: readonly string[];
  readonly notes: readonly string[];
  /** HTML of the figures, from the library. */
  readonly figures: readonly string[];
  readonly cost: readonly CostLine[];
  readonly cautions: readonly string[];
  readonly outlook: OutlookView | { readonly refusal: string };
}

export interface PlanAnswer {
  readonly head: TrialHead;
  /** Null until the trial is laid out. */
  readonly plan: PlanView | null;
  /** Unit of the first response, for the questions about σ and effect. */
  readonly responseUnit: string;
}

/** A kind of layout that can be chosen. */
export interface LayoutKindView {
  readonly kind: string;
  readonly summary: string;
  readonly options: readonly string[];
}

export interface FormAnswer {
  readonly kinds: readonly LayoutKindView[];
  readonly units: readonly string[];
  /** An empty form, with a seed to write down. */
  readonly draft: Draft;
  readonly names: readonly string[];
}

/** Something in the form that can't stand, and where: "factors.0.low"; an empty field for the whole. */
export interface DraftProblem {
  readonly field: string;
  readonly message: string;
  /** True where nothing was typed yet: worth a word, not a reproach. */
  readonly missing: boolean;
}

export interface DraftRequest {
  readonly draft: Draft;
  readonly outlook: OutlookDraft;
}

export interface DraftAnswer {
  readonly problems: readonly DraftProblem[];
  /** True where the runs are still to be searched for. */
  readonly toSearch: boolean;
  /** Null until the form can be laid out. */
  readonly plan: PlanView | null;
  /** The trial.json that would be written; null while there are problems. */
  readonly json: string | null;
}

/** Something that looks wrong or can be read in more than one way: asked about, never guessed, and nothing written before. */
export interface QuestionView {
  readonly id: string;
  readonly text: string;
  readonly choices: readonly ChoiceView[];
}

export interface ChoiceView {
  readonly id: string;
  readonly label: string;
  /** True where the answer must come with a few words of reason. */
  readonly needsNote: boolean;
}

/** Answers by the id of the question. */
export type QuestionAnswers = Readonly<Record<string, { readonly choice: string; readonly note: string }>>;

export interface ReadingView {
  readonly run: number;
  readonly response: string;
  readonly spot: number;
  readonly repeat: number;
  /** With its unit. */
  readonly text: string;
  /** As it was typed, where that is known. */
  readonly typed: string;
  readonly taken: string;
  readonly note: string;
  /** Why it is not used; empty for a reading in use. */
  readonly void: string;
}

export interface SheetRunView extends PlannedRunView {
  /** Where it was cut otherwise: one text a factor, empty where as planned. */
  readonly asCut: readonly string[];
  readonly asCutReasons: readonly string[];
  readonly readings: readonly ReadingView[];
}

export interface SheetResponseView {
  readonly name: string;
  readonly unit: string;
  /** "at most 0.8 µm"; empty where no limit is stated. */
  readonly limit: string;
}

export interface RunSheetAnswer {
  readonly head: TrialHead;
  readonly factors: readonly FactorView[];
  readonly held: readonly (readonly [string, string])[];
  readonly conditions: readonly string[];
  readonly responses: readonly SheetResponseView[];
  readonly runs: readonly SheetRunView[];
  /** One sentence for each rule that the order obeys. */
  readonly orderRules: readonly string[];
  /** What the whole sheet uses up, in one sentence. */
  readonly takes: string;
  readonly cautions: readonly string[];
  readonly measurement: readonly (readonly [string, string])[];
}

/** What came of typing a reading. */
export type RecordAnswer =
  | { readonly kind: "saved"; readonly reading: ReadingView; readonly head: TrialHead }
  | { readonly kind: "asked"; readonly questions: readonly QuestionView[] }
  /** The answer was to read it again: nothing was written. */
  | { readonly kind: "left-out" };

export interface NotebooksAnswer {
  /** File names without ".ts". */
  readonly notebooks: readonly string[];
}

/** One entry of a live page; the same index replaces it. */
export interface LiveEntry {
  readonly index: number;
  readonly kind: string;
  readonly html: string;
}

/** Told at the end of a run. */
export interface LivePage {
  readonly title: string;
  readonly titleBlock: TitleBlock;
  readonly entries: number;
  readonly failed: boolean;
}

/** Runs that may be added to the plan, as text for people, one row a run; and as they are sent back to be added. */
export interface AddedRunsView {
  readonly addColumns: readonly string[];
  readonly addRows: readonly (readonly string[])[];
  readonly addRuns: readonly Readonly<Record<string, number | string>>[];
}

/** A remark, with the runs that would mend it. */
export interface RemarkView extends AddedRunsView {
  readonly weight: "caution" | "note";
  readonly title: string;
  readonly evidence: string;
  readonly mend: string;
  readonly runs: readonly number[];
  /** How it is judged and how often it fires where nothing is wrong. */
  readonly method: string;
}

/** What was asked of a review; empty texts stand for the default. */
export interface ReviewQuestion {
  readonly response: string;
  readonly model: string;
  readonly confidence: string;
  /** The category whose levels are compared, the level that the others are compared with (empty for every pair), and what counts as no difference. */
  readonly compare: string;
  readonly control: string;
  readonly margin: string;
}

/** Whether levels are alike within a margin. */
export interface AlikeView {
  readonly sentences: readonly string[];
  readonly method: string;
  readonly figures: readonly string[];
  /** Why it can't be told; empty where it can. */
  readonly refusal: string;
}

/** The levels of a category beside each other. */
export interface LevelsView {
  readonly factor: string;
  /** The categories that may be asked about, and the levels of this one. */
  readonly factors: readonly string[];
  readonly levels: readonly string[];
  /** Empty for every pair. */
  readonly control: string;
  readonly marginHint: string;
  readonly sentences: readonly string[];
  readonly overall: string;
  readonly notes: readonly string[];
  readonly method: string;
  readonly figures: readonly string[];
  /** Null until a margin is given. */
  readonly alike: AlikeView | null;
  readonly refusal: string;
}

/** What each factor does to the scatter. */
export interface ScatterView {
  readonly sentences: readonly string[];
  readonly notes: readonly string[];
  readonly method: string;
  readonly figures: readonly string[];
}

export interface FitView {
  /** What a reader must know of a model that was picked by hand in place of the plan's; empty where it was not. */
  readonly picked: readonly string[];
  /** Why this model, where none was asked for; else empty. */
  readonly why: string;
  /** Of each factor, with its interval. */
  readonly sentences: readonly string[];
  /** What can't be told, and what else a reader should know. */
  readonly cautions: readonly string[];
  /** How well the model follows the runs, in words. */
  readonly facts: readonly (readonly [string, string])[];
  /** How far runs are missed that took no part in the fit; empty where `picked` says it. */
  readonly leftOut: string;
  readonly notes: readonly string[];
  /** HTML of the figures, from the library: the main ones, then those for checking the model. */
  readonly figures: readonly string[];
  readonly checks: readonly string[];
  /** HTML of the tables behind it. */
  readonly tables: readonly string[];
  /** Methods and sources of what is told, and of the checks. */
  readonly methods: FitMethods;
  /** Null where the fit has no category. */
  readonly levels: LevelsView | null;
  /** Null where nothing was cut twice. */
  readonly scatter: ScatterView | null;
}

export interface ReviewAnswer {
  readonly head: TrialHead;
  readonly responses: readonly { readonly name: string; readonly unit: string }[];
  /** With the defaults filled in. */
  readonly asked: ReviewQuestion;
  readonly remarks: readonly RemarkView[];
  /** Null where nothing can be fitted; `refusal` says why. */
  readonly fit: FitView | null;
  readonly refusal: string;
}

/** One column of a table that is to be taken in, and what it is taken for. */
export interface ImportColumnView {
  readonly name: string;
  /** As it stands in the file, unit included. */
  readonly header: string;
  /** Null while it is still asked about. */
  readonly meaning: string | null;
  readonly why: string;
  readonly samples: readonly string[];
}

/** What taking in a table would do. Nothing is written before problems and questions are empty. */
export interface ImportAnswer {
  readonly rows: number;
  readonly columns: readonly ImportColumnView[];
  /** What a column may mean. */
  readonly meanings: readonly string[];
  readonly problems: readonly string[];
  readonly questions: readonly QuestionView[];
  /** How many readings would be taken in, and the first of them. */
  readonly readings: number;
  readonly first: { readonly columns: readonly string[]; readonly rows: readonly (readonly string[])[] };
  /** Conversions, settings cut otherwise, how surfaces were told apart: in words. */
  readonly notes: readonly string[];
  /** Runs of the trial that a table would become; 0 for an import into a trial. */
  readonly runs: number;
}

export type ImportOutcome =
  | { readonly kind: "imported"; readonly trial: string; readonly readings: number }
  | { readonly kind: "asked"; readonly answer: ImportAnswer };

/** What is published of a trial. */
export interface FindingAnswer {
  readonly head: TrialHead;
  /** Names. */
  readonly responses: readonly string[];
  /** What may be asked of the recipe. */
  readonly recipe: RecipeForm;
  /** Null until the trial was published. */
  readonly published: PublishedView | null;
  /** Why it can't be published now; empty where it can. */
  readonly refusal: string;
  /** Why the page that lies there can't be read; empty where it can, or where there is none. */
  readonly problem: string;
}

export interface PublishedView {
  /** Within the project's folder. */
  readonly page: string;
  readonly package: string;
  /** ISO date of publication, as the page states it. */
  readonly date: string;
  /** Changes whenever the page is written anew. */
  readonly edition: string;
  readonly softwareVersion: string;
  /** Checksum of the data that the page holds. */
  readonly checksum: string;
  /** True where the trial has changed since. */
  readonly outdated: boolean;
}
