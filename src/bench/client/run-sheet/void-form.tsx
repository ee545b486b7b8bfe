import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { ReadingView } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { loadSheet, sheet } from "./sheet-state.ts";

const usualReasons = ["mistyped", "trace on a scratch or burr", "wrong cut-off", "gauge was not set"];

interface VoidFormProps {
  readonly reading: ReadingView;
  readonly label: string;
  readonly onDone: () => void;
}

/** Takes a reading out of use. It stays in the file with the reason, so that nobody needs to wonder where it went. */
export function VoidForm({ reading, label, onDone }: VoidFormProps) {
  const reason = useSignal("");
  const failure = useSignal("");
  const busy = useSignal(false);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const { run, response, spot, repeat } = reading;
  const id = `void-${run}-${spot}-${repeat}`;

  const submit = async (event: Event) => {
    event.preventDefault();
    const trial = sheet.value?.head.name;
    if (trial === undefined || busy.value) return;
    if (reason.value.trim() === "") {
      failure.value = "Say why in a few words; the reason stays beside the reading.";
      field.current?.focus();
      return;
    }
    busy.value = true;
    try {
      const body = { run, response, spot, repeat, reason: reason.value.trim() };
      await tell(`/api/trials/${encodeURIComponent(trial)}/voids`, body);
      announce(`${label}: taken out of use.`);
      onDone();
      await loadSheet(trial);
    } catch (error) {
      failure.value = messageOf(error);
    } finally {
      busy.value = false;
    }
  };

  return (
    <form class="void-form" onSubmit={(event) => void submit(event)} noValidate>
      <label for={id}>Why is it not to be used?</label>
      <input
        ref={field}
        id={id}
        type="text"
        list={`${id}-reasons`}
        autocomplete="off"
        value={reason.value}
        aria-invalid={failure.value === "" ? undefined : true}
        aria-describedby={`${id}-failure`}
        onInput={(event) => (reason.value = event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === "Escape") onDone();
        }}
      />
      <datalist id={`${id}-reasons`}>
        {usualReasons.map((text) => (
          <option key={text} value={text} />
        ))}
      </datalist>
      <span class="refusal" id={`${id}-failure`}>
        {failure}
      </span>
      <div class="row">
        <button type="submit" disabled={busy.value}>
          Void it
        </button>
        <button type="button" class="plain" onClick={onDone}>
          Keep it
        </button>
      </div>
    </form>
  );
}
