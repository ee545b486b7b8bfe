import { useSignal } from "@preact/signals";
import type { ReadingView, SheetResponseView, SheetRunView } from "../../api.ts";
import { entering, justSaved, type, type Entering } from "./entering.ts";
import { QuestionForm } from "../fields/question-form.tsx";
import { save } from "./save.ts";
import { places, sheet } from "./sheet-state.ts";
import { nextOpenSlot, readingIn, slotId, slotKey, slotWords, type Slot } from "./slots.ts";
import { VoidForm } from "./void-form.tsx";

export interface SlotProps {
  readonly slot: Slot;
  readonly run: SheetRunView;
  readonly response: SheetResponseView;
  /** Goes with the readings of this run. */
  readonly note: string;
  /** False where the column's heading says it all. */
  readonly captioned: boolean;
}

function idOf(slot: Slot): string {
  return slotId(slot, sheet.value?.responses ?? []);
}

function fieldOf(slot: Slot): HTMLInputElement | null {
  const field = document.getElementById(idOf(slot));
  return field instanceof HTMLInputElement ? field : null;
}

/** Moves to the next open field, and comes back if a question arises and nothing was typed there meanwhile. */
async function saveAndMove(slot: Slot, note: string, direction: "on" | "back"): Promise<void> {
  const now = sheet.value;
  const next = now === null ? null : nextOpenSlot(now, places.value, slot, direction);
  const nextField = next === null ? null : fieldOf(next);
  // Saving begins before the focus moves: leaving the field is a change of it too, and must not send the reading twice.
  const saving = save(slot, { note });
  nextField?.focus();
  const outcome = await saving;
  const isIdle = nextField === null || (document.activeElement === nextField && nextField.value === "");
  if (outcome === "saved" || !isIdle) return;
  requestAnimationFrame(() => {
    const question = document.getElementById(`${idOf(slot)}-question`);
    (question?.querySelector("button") ?? fieldOf(slot))?.focus();
  });
}

const stateWords: Readonly<Record<Entering["state"], string>> = {
  typed: "not saved yet",
  saving: "saving …",
  asked: "a question",
  failed: "not saved",
};

function SavedReading({
  reading,
  slot,
  label,
}: {
  readonly reading: ReadingView;
  readonly slot: Slot;
  readonly label: string;
}) {
  const voiding = useSignal(false);
  const isNew = justSaved.value.has(slotKey(slot));
  return (
    <div class="saved-reading">
      <p id={idOf(slot)} tabIndex={-1}>
        <span class="value">{reading.text}</span>{" "}
        <span class={isNew ? "state just-saved" : "state"}>
          <span aria-hidden="true">✓ </span>saved
        </span>
      </p>
      {voiding.value ? (
        <VoidForm reading={reading} label={label} onDone={() => (voiding.value = false)} />
      ) : (
        <button
          type="button"
          class="plain small no-print"
          onClick={() => (voiding.value = true)}
          aria-label={`Void ${label}, ${reading.text}`}
        >
          Void …
        </button>
      )}
      {reading.note === "" ? null : <p class="reading-note small soft">{reading.note}</p>}
    </div>
  );
}

/** One reading: a field to type it in, what became of it, and how to take it out of use. */
export function SlotField({ slot, run, response, note, captioned }: SlotProps) {
  const trial = sheet.value?.head.name ?? "";
  const key = slotKey(slot);
  const id = idOf(slot);
  const entry = entering.value.get(key);
  const reading = readingIn(run, slot);
  const words = slotWords(slot, places.value);
  const label = `Run ${slot.run}, ${response.name}${words === "" ? "" : `, ${words}`}`;
  const onKey = (event: KeyboardEvent) => {
    if (event.key !== "Enter" || event.isComposing) return;
    event.preventDefault();
    void saveAndMove(slot, note, event.shiftKey ? "back" : "on");
  };
  const retype = () => {
    type(trial, slot, "");
    requestAnimationFrame(() => fieldOf(slot)?.focus());
  };
  const caption = !captioned ? null : (
    <span class="slot-words">
      {response.name} <span class="soft">[{response.unit}]</span>
      {words === "" ? "" : ` ${words}`}
    </span>
  );
  if (reading) {
    return (
      <div class={captioned ? "slot captioned" : "slot"}>
        {caption}
        <SavedReading reading={reading} slot={slot} label={label} />
      </div>
    );
  }
  return (
    <div class={`slot ${captioned ? "captioned" : ""} ${entry?.state ?? ""}`}>
      {caption}
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autocomplete="off"
        enterkeyhint="next"
        spellcheck={false}
        aria-label={`${label} in ${response.unit}`}
        aria-describedby={`${id}-state`}
        aria-invalid={entry?.state === "failed" ? true : undefined}
        value={entry?.typed ?? ""}
        readOnly={entry?.state === "saving"}
        onInput={(event) => type(trial, slot, event.currentTarget.value)}
        onKeyDown={onKey}
        onChange={() => {
          if (entering.value.get(key)?.state === "typed") void save(slot, { note });
        }}
      />
      <span class="state" id={`${id}-state`}>
        {entry ? stateWords[entry.state] : ""}
      </span>
      {entry?.state === "failed" ? (
        <div class="refusal-box">
          <p class="refusal message">{entry.message}</p>
          <button type="button" onClick={() => void save(slot, { note })}>
            Save {entry.typed} again
          </button>
        </div>
      ) : null}
      {entry?.state === "asked" ? (
        <QuestionForm
          key={entry.questions.map((question) => question.id).join(" ")}
          id={id}
          label={label}
          questions={entry.questions}
          onAnswers={(answers) => void save(slot, { note, answers })}
          onRetype={retype}
        />
      ) : null}
    </div>
  );
}
