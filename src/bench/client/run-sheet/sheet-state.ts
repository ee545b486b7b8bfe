import { computed, signal } from "@preact/signals";
import type { ChoiceView, RecordAnswer, RunSheetAnswer } from "../../api.ts";
import { announce } from "../announce.tsx";
import { ask, messageOf, tell } from "../ask.ts";
import { changeQuery, place } from "../place.ts";
import { keepTyped, typedBefore } from "./shelf.ts";
import { allSlots, readingIn, slotKey, type Places, type Slot } from "./slots.ts";

/** What is under way in a slot that holds no saved reading yet. */
export interface Entering {
  readonly typed: string;
  readonly state: "typed" | "saving" | "asked" | "failed";
  /** The question, or why it failed. */
  readonly message: string;
  readonly choices: readonly ChoiceView[];
}

export const sheet = signal<RunSheetAnswer | null>(null);
export const failure = signal("");
/** By slot; a slot that isn't here is empty or saved. */
export const entering = signal<ReadonlyMap<string, Entering>>(new Map());
/** Slots that were saved while this page was open, so that it can say so. */
export const justSaved = signal<ReadonlySet<string>>(new Set());

function countIn(name: string): number {
  const given = Number(place.value.query.get(name) ?? "1");
  return Number.isInteger(given) && given >= 1 && given <= 25 ? given : 1;
}

/** Stated in the address, so that the sheet opens again as it was. */
export const places = computed<Places>(() => ({ spots: countIn("spots"), repeats: countIn("repeats") }));

export function setPlaces(change: Partial<Places>): void {
  const { spots, repeats } = { ...places.value, ...change };
  changeQuery({ spots: spots > 1 ? String(spots) : null, repeats: repeats > 1 ? String(repeats) : null });
}

/** How much of the sheet is saved, asked about, or only typed. */
export const tally = computed(() => {
  const now = sheet.value;
  if (now === null) return { slots: 0, saved: 0, asked: 0, unsaved: 0 };
  const runs = new Map(now.runs.map((run) => [run.run, run]));
  const slots = allSlots(now, places.value);
  const saved = slots.filter((slot) => {
    const run = runs.get(slot.run);
    return run !== undefined && readingIn(run, slot) !== undefined;
  }).length;
  const states = [...entering.value.values()].map(({ state }) => state);
  const asked = states.filter((state) => state === "asked").length;
  return { slots: slots.length, saved, asked, unsaved: states.length - asked };
});

function put(key: string, entry: Entering | null): void {
  const next = new Map(entering.value);
  if (entry === null) next.delete(key);
  else next.set(key, entry);
  entering.value = next;
  const trial = sheet.value?.head.name;
  if (trial !== undefined) keepTyped(trial, key, entry?.typed ?? "");
}

/** Fetches the sheet; what is typed in its fields stays. */
export async function loadSheet(trial: string): Promise<void> {
  const isNew = sheet.value?.head.name !== trial;
  if (isNew) {
    sheet.value = null;
    entering.value = new Map();
    justSaved.value = new Set();
  }
  try {
    const answer = await ask<RunSheetAnswer>(`/api/trials/${encodeURIComponent(trial)}/run-sheet`);
    sheet.value = answer;
    failure.value = "";
    if (isNew) restoreTyped(answer);
  } catch (error) {
    failure.value = messageOf(error);
  }
}

function restoreTyped(answer: RunSheetAnswer): void {
  const restored = [...typedBefore(answer.head.name)].map(([key, typed]): [string, Entering] => [
    key,
    { typed, state: "failed", message: "Typed before and not saved yet.", choices: [] },
  ]);
  entering.value = new Map(restored);
}

export function type(slot: Slot, typed: string): void {
  put(slotKey(slot), typed === "" ? null : { typed, state: "typed", message: "", choices: [] });
}

function inWords(slot: Slot): string {
  return `Run ${slot.run}, ${slot.response}`;
}

/**
 * Sends what is typed in a slot. It is called saved only when the bench has answered, which it does after the reading
 * has reached the disk.
 * @returns what came of it
 */
export async function save(
  slot: Slot,
  { as, note = "" }: { as?: string; note?: string } = {},
): Promise<Entering["state"] | "saved"> {
  const key = slotKey(slot);
  const trial = sheet.value?.head.name;
  const typed = as ?? entering.value.get(key)?.typed ?? "";
  if (trial === undefined || typed.trim() === "") return "saved";
  const before = entering.value.get(key);
  put(key, { typed: before?.typed ?? typed, state: "saving", message: "", choices: [] });
  try {
    const answer = await tell<RecordAnswer>(`/api/trials/${encodeURIComponent(trial)}/readings`, {
      ...slot,
      typed,
      note,
      settled: as !== undefined,
    });
    if (answer.kind === "question") {
      put(key, {
        typed: before?.typed ?? typed,
        state: "asked",
        message: answer.question,
        choices: answer.choices,
      });
      announce(`${inWords(slot)}: a question. ${answer.question}`);
      return "asked";
    }
    takeIn(answer);
    put(key, null);
    justSaved.value = new Set([...justSaved.value, key]);
    announce(`${inWords(slot)}: ${answer.reading.text} saved.`);
    return "saved";
  } catch (error) {
    put(key, { typed: before?.typed ?? typed, state: "failed", message: messageOf(error), choices: [] });
    announce(`${inWords(slot)}: not saved. ${messageOf(error)}`);
    return "failed";
  }
}

function takeIn({ reading, head }: Extract<RecordAnswer, { kind: "saved" }>): void {
  const now = sheet.value;
  if (now === null) return;
  const runs = now.runs.map((run) =>
    run.run === reading.run ? { ...run, readings: [...run.readings, reading] } : run,
  );
  sheet.value = { ...now, head, runs };
}

/** Sends everything that waits, such as after the bench was away. */
export async function saveAll(): Promise<void> {
  const now = sheet.value;
  if (now === null) return;
  const waiting = new Set(
    [...entering.value]
      .filter(([, { state }]) => state === "typed" || state === "failed")
      .map(([key]) => key),
  );
  for (const slot of allSlots(now, places.value)) {
    if (waiting.has(slotKey(slot))) await save(slot);
  }
}
