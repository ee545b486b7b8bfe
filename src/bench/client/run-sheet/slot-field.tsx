import { useSignal } from "@preact/signals";
import type { ReadingView, SheetResponseView, SheetRunView } from "../../api.ts";
import { entering, justSaved, places, save, sheet, type, type Entering } from "./sheet-state.ts";
import { nextOpenSlot, readingIn, slotId, slotKey, slotWords, voidedIn, type Slot } from "./slots.ts";
import { VoidForm } from "./void-form.tsx";

export interface SlotProps {
  readonly slot: Slot;
  readonly run: SheetRunView;
  readonly response: SheetResponseView;
  /** Goes with the readings of this run. */
  readonly note: string;
}

function fieldOf(slot: Slot): HTMLElement | null {
  return document.getElementById(slotId(slot, sheet.value?.responses ?? []));
}

/** Moves to the next open field, and comes back if a question arises and nothing was typed there meanwhile. */
async function saveAndMove(slot: Slot, note: string, direction: "on" | "back"): Promise<void> {
  const now = sheet.value;
  const next = now === null ? null : nextOpenSlot(now, places.value, slot, direction);
  const nextField = next === null ? null : fieldOf(next);
  nextField?.focus();
  const outcome = await save(slot, { note });
  const isIdle =
    nextField === null ||
    (document.activeElement === nextField && (nextField as HTMLInputElement).value === "");
  if (outcome !== "saved" && isIdle) {
    requestAnimationFrame(() => {
      const question = document.getElementById(`${slotId(slot, sheet.value?.responses ?? [])}-question`);
      (question?.querySelector("button") ?? fieldOf(slot))?.focus();
    });
  }
}

const stateWords: Readonly<Record<Entering["state"], string>> = {
  typed: "not saved yet",
  saving: "saving …",
  asked: "a question",
  failed: "not saved",
};

function Voided({ readings }: { readonly readings: readonly ReadingView[] }) {
  return (
    <>
      {readings.map((reading, index) => (
        <p key={index} class="voided small">
          <s>{reading.text}</s> not used: {reading.void}
        </p>
      ))}
    </>
  );
}

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
  const id = slotId(slot, sheet.value?.responses ?? []);
  return (
    <div class="saved-reading">
      <p id={id} tabIndex={-1}>
        <span class="value">{reading.text}</span>{" "}
        <span class={isNew ? "state just-saved" : "state"}>
          <span aria-hidden="true">✓ </span>saved
        </span>
      </p>
      {reading.note === "" ? null : <p class="small soft">{reading.note}</p>}
      {voiding.value ? (
        <VoidForm slot={slot} label={label} onDone={() => (voiding.value = false)} />
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
    </div>
  );
}

function Question({
  slot,
  entry,
  id,
  note,
}: {
  readonly slot: Slot;
  readonly entry: Entering;
  readonly id: string;
  readonly note: string;
}) {
  return (
    <div
      class="caution question"
      id={`${id}-question`}
      role="group"
      aria-label={`Question about run ${slot.run}`}
    >
      <p>{entry.message}</p>
      <div class="row">
        {entry.choices.map((choice) => (
          <button
            key={choice.write}
            type="button"
            onClick={() => void save(slot, { as: choice.write, note })}
          >
            <strong>{choice.write}</strong> {choice.meaning}
          </button>
        ))}
        <button
          type="button"
          class="plain"
          onClick={() => {
            type(slot, "");
            requestAnimationFrame(() => fieldOf(slot)?.focus());
          }}
        >
          Type it again
        </button>
      </div>
    </div>
  );
}

/** One reading: a field to type it in, what became of it, and how to take it out of use. */
export function SlotField({ slot, run, response, note }: SlotProps) {
  const key = slotKey(slot);
  const id = slotId(slot, sheet.value?.responses ?? []);
  const entry = entering.value.get(key);
  const reading = readingIn(run, slot);
  const words = slotWords(slot, places.value);
  const label = `Run ${slot.run}, ${response.name}${words === "" ? "" : `, ${words}`}`;
  const onKey = (event: KeyboardEvent) => {
    if (event.key !== "Enter" || event.isComposing) return;
    event.preventDefault();
    void saveAndMove(slot, note, event.shiftKey ? "back" : "on");
  };
  return (
    <div class={`slot ${entry?.state ?? ""}`}>
      <span class="slot-words">
        {response.name} <span class="soft">[{response.unit}]</span>
        {words === "" ? "" : ` ${words}`}
      </span>
      <Voided readings={voidedIn(run, slot)} />
      {reading ? (
        <SavedReading reading={reading} slot={slot} label={label} />
      ) : (
        <>
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
            onInput={(event) => type(slot, event.currentTarget.value)}
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
          {entry?.state === "asked" ? <Question slot={slot} entry={entry} id={id} note={note} /> : null}
        </>
      )}
    </div>
  );
}
