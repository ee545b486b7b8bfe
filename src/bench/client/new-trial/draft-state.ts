import { computed, signal } from "@preact/signals";
import type { DraftAnswer, FormAnswer } from "../../api.ts";
import type { Draft, FactorDraft, OutlookDraft, ResponseDraft } from "../../draft.ts";

const shelf = "trycut-new-trial";

const noOutlook: OutlookDraft = {
  sigma: "",
  effect: "",
  confidence: "95",
  model: "main",
  stake: "which-matter",
};

interface Kept {
  readonly draft: Draft;
  readonly outlook: OutlookDraft;
}

export const form = signal<FormAnswer | null>(null);
export const draft = signal<Draft | null>(null);
export const outlook = signal<OutlookDraft>(noOutlook);
/** What the bench said of the form last; null before it has spoken. */
export const answer = signal<DraftAnswer | null>(null);
/** True once the reader asked for the trial: from then on, what is missing is said at its field. */
export const wanted = signal(false);

/** Fields whose content can't stand, by name. */
export const refusals = computed<ReadonlyMap<string, string>>(
  () =>
    new Map(
      (answer.value?.problems ?? [])
        .filter((problem) => wanted.value || !problem.missing)
        .map((problem) => [problem.field, problem.message]),
    ),
);

function readShelf(): Kept | null {
  try {
    // Written by `keep` below, in this browser; a form of an older version is caught when the bench checks it.
    return JSON.parse(localStorage.getItem(shelf) ?? "null") as Kept | null;
  } catch {
    return null;
  }
}

function keep(): void {
  try {
    localStorage.setItem(shelf, JSON.stringify({ draft: draft.value, outlook: outlook.value }));
  } catch {
    // A browser that keeps nothing still lets the form be filled in.
  }
}

/** Opens the form as it was left, or empty. */
export function openForm(given: FormAnswer): void {
  form.value = given;
  const kept = readShelf();
  draft.value = kept?.draft ?? given.draft;
  // A form kept by an older version may lack a question.
  outlook.value = { ...noOutlook, ...kept?.outlook };
  wanted.value = false;
}

/** Empties the form. */
export function emptyForm(): void {
  localStorage.removeItem(shelf);
  answer.value = null;
  wanted.value = false;
  draft.value = form.value?.draft ?? null;
  outlook.value = noOutlook;
}

/** Forgets what was typed, once it has become a trial. */
export function forgetForm(): void {
  localStorage.removeItem(shelf);
  draft.value = null;
  answer.value = null;
}

export function change(part: Partial<Draft>): void {
  if (draft.value === null) return;
  draft.value = { ...draft.value, ...part };
  keep();
}

export function changeOutlook(part: Partial<OutlookDraft>): void {
  outlook.value = { ...outlook.value, ...part };
  keep();
}

function replaced<Item>(items: readonly Item[], index: number, item: Item): Item[] {
  return items.map((old, place) => (place === index ? item : old));
}

export function changeFactor(index: number, factor: FactorDraft): void {
  change({ factors: replaced(draft.value?.factors ?? [], index, factor) });
}

export function changeResponse(index: number, response: ResponseDraft): void {
  change({ responses: replaced(draft.value?.responses ?? [], index, response) });
}

export function without<Item>(items: readonly Item[], index: number): Item[] {
  return items.filter((_, place) => place !== index);
}

export const emptyResponse: ResponseDraft = { name: "", unit: "", aim: "smaller", limit: "" };

export const emptyQuantity: FactorDraft = {
  kind: "quantity",
  name: "",
  unit: "",
  low: "",
  high: "",
  levels: "",
  scale: "linear",
  increment: "",
  change: "easy",
  today: "",
};

export const emptyCategory: FactorDraft = {
  kind: "category",
  name: "",
  levels: "",
  change: "easy",
  today: "",
};
