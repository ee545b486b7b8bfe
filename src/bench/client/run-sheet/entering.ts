import { signal } from "@preact/signals";
import type { QuestionView, RunSheetAnswer } from "../../api.ts";
import { keepTyped, typedBefore } from "./shelf.ts";
import { readingIn, slotKey, slotOfKey, type Slot } from "./slots.ts";

/** What is under way in a slot that holds no saved reading yet. */
export interface Entering {
  readonly typed: string;
  readonly state: "typed" | "saving" | "asked" | "failed";
  /** Why it failed. */
  readonly message: string;
  readonly questions: readonly QuestionView[];
}

/** By slot; a slot that isn't here is empty or saved. */
export const entering = signal<ReadonlyMap<string, Entering>>(new Map());

/** Slots that were saved while this page was open, so that it can say so. */
export const justSaved = signal<ReadonlySet<string>>(new Set());

/** Sets what is under way in a slot, or that nothing is; kept in the browser until it is saved. */
export function put(trial: string, key: string, entry: Entering | null): void {
  const next = new Map(entering.value);
  if (entry === null) next.delete(key);
  else next.set(key, entry);
  entering.value = next;
  keepTyped(trial, key, entry?.typed ?? "");
}

export function type(trial: string, slot: Slot, typed: string): void {
  put(trial, slotKey(slot), typed === "" ? null : { typed, state: "typed", message: "", questions: [] });
}

/** A reading whose answer was lost on the way is there already: what was typed for it is not offered again. */
function isThere(sheet: RunSheetAnswer, key: string, typed: string): boolean {
  const slot = slotOfKey(key);
  const run = sheet.runs.find((candidate) => candidate.run === slot?.run);
  if (slot === null || run === undefined) return false;
  const reading = readingIn(run, slot);
  return reading !== undefined && (reading.typed === typed.trim() || reading.text === typed.trim());
}

/** Brings back what was typed and not saved when the page was closed. */
export function restoreTyped(sheet: RunSheetAnswer): void {
  const trial = sheet.head.name;
  const restored = new Map<string, Entering>();
  for (const [key, typed] of typedBefore(trial)) {
    if (isThere(sheet, key, typed)) keepTyped(trial, key, "");
    else
      restored.set(key, {
        typed,
        state: "failed",
        message: "Typed before and not saved yet.",
        questions: [],
      });
  }
  entering.value = restored;
}
