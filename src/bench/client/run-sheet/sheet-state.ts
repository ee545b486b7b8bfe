import { computed, signal } from "@preact/signals";
import type { RunSheetAnswer } from "../../api.ts";
import { ask, messageOf } from "../ask.ts";
import { changeQuery, place } from "../place.ts";
import { entering, justSaved, restoreTyped } from "./entering.ts";
import { allSlots, readingIn, slotId, slotKey, slotOfKey, type Places, type Slot } from "./slots.ts";

export const sheet = signal<RunSheetAnswer | null>(null);
export const failure = signal("");

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

function isFilled(now: RunSheetAnswer, slot: Slot): boolean {
  const run = now.runs.find((candidate) => candidate.run === slot.run);
  return run !== undefined && readingIn(run, slot) !== undefined;
}

/** How much of the sheet is saved, asked about, or only typed. */
export const tally = computed(() => {
  const now = sheet.value;
  if (now === null) return { slots: 0, saved: 0, asked: 0, unsaved: 0 };
  const slots = allSlots(now, places.value);
  const states = [...entering.value.values()].map(({ state }) => state);
  const asked = states.filter((state) => state === "asked").length;
  const saved = slots.filter((slot) => isFilled(now, slot)).length;
  return { slots: slots.length, saved, asked, unsaved: states.length - asked };
});

/** The first place that waits for a reading, with the id of its field. */
export const firstOpen = computed<{ readonly run: number; readonly id: string } | null>(() => {
  const now = sheet.value;
  const slot = now === null ? undefined : allSlots(now, places.value).find((each) => !isFilled(now, each));
  return now === null || slot === undefined ? null : { run: slot.run, id: slotId(slot, now.responses) };
});

/** What was typed for a place that no longer has a field: another window filled it, or the sheet shows fewer places. */
export const homeless = computed<
  readonly { readonly key: string; readonly slot: Slot; readonly typed: string }[]
>(() => {
  const now = sheet.value;
  if (now === null) return [];
  const open = new Set(
    allSlots(now, places.value)
      .filter((slot) => !isFilled(now, slot))
      .map(slotKey),
  );
  return [...entering.value].flatMap(([key, { typed, state }]) => {
    const slot = slotOfKey(key);
    return slot === null || open.has(key) || state === "saving" ? [] : [{ key, slot, typed }];
  });
});

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
