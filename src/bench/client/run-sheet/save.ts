import type { QuestionAnswers, RecordAnswer } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, Refused, tell } from "../ask.ts";
import { entering, justSaved, put, type Entering } from "./entering.ts";
import { loadSheet, places, sheet } from "./sheet-state.ts";
import { allSlots, nextRepeat, slotKey, type Slot } from "./slots.ts";

function inWords(slot: Slot): string {
  return `Run ${slot.run}, ${slot.response}`;
}

export interface SaveOptions {
  /** Answers to what was asked about this reading. */
  readonly answers?: QuestionAnswers;
  readonly note?: string;
}

/**
 * Sends what is typed in a slot. It is called saved only when the bench has answered, which it does after the reading
 * has reached the disk.
 * @returns what came of it
 */
export async function save(
  slot: Slot,
  { answers = {}, note = "" }: SaveOptions = {},
): Promise<Entering["state"] | "saved"> {
  const key = slotKey(slot);
  const now = sheet.value;
  const run = now?.runs.find((candidate) => candidate.run === slot.run);
  const typed = entering.value.get(key)?.typed ?? "";
  if (now === null || run === undefined || typed.trim() === "") return "saved";
  const trial = now.head.name;
  put(trial, key, { typed, state: "saving", message: "", questions: [] });
  try {
    const body = {
      run: slot.run,
      response: slot.response,
      spot: slot.spot,
      repeat: nextRepeat(run, slot),
      typed,
      note,
      answers,
    };
    const answer = await tell<RecordAnswer>(`/api/trials/${encodeURIComponent(trial)}/readings`, body);
    if (answer.kind === "asked") {
      put(trial, key, { typed, state: "asked", message: "", questions: answer.questions });
      announce(`${inWords(slot)}: a question. ${answer.questions.map(({ text }) => text).join(" ")}`);
      return "asked";
    }
    if (answer.kind === "left-out") {
      put(trial, key, null);
      announce(`${inWords(slot)}: left out, to be read again.`);
      return "failed";
    }
    takeIn(answer);
    put(trial, key, null);
    justSaved.value = new Set([...justSaved.value, key]);
    announce(
      `${inWords(slot)}: ${answer.reading.text} saved${answer.reading.void === "" ? "" : " as void"}.`,
    );
    return "saved";
  } catch (error) {
    put(trial, key, { typed, state: "failed", message: messageOf(error), questions: [] });
    // Another window was faster: its reading is shown, and what was typed here stays in sight.
    if (error instanceof Refused && error.status === 409) void loadSheet(trial);
    announce(`${inWords(slot)}: not saved. ${messageOf(error)}`);
    return "failed";
  }
}

function takeIn({ reading, head }: Extract<RecordAnswer, { kind: "saved" }>): void {
  const now = sheet.value;
  if (now === null) return;
  const isSame = (other: typeof reading) =>
    other.response === reading.response && other.spot === reading.spot && other.repeat === reading.repeat;
  const runs = now.runs.map((run) =>
    run.run === reading.run
      ? { ...run, readings: [...run.readings.filter((other) => !isSame(other)), reading] }
      : run,
  );
  sheet.value = { ...now, head, runs };
}

/** Sends everything that waits, such as after the bench was away. */
export async function saveAll(): Promise<void> {
  const now = sheet.value;
  if (now === null) return;
  const waits = (slot: Slot) => ["typed", "failed"].includes(entering.value.get(slotKey(slot))?.state ?? "");
  for (const slot of allSlots(now, places.value)) {
    if (waits(slot)) await save(slot);
  }
}
