import { useSignal } from "@preact/signals";
import type { ChoiceView, QuestionAnswers, QuestionView } from "../../api.ts";

interface QuestionFormProps {
  readonly id: string;
  /** What is asked about, for who listens. */
  readonly label: string;
  readonly questions: readonly QuestionView[];
  readonly onAnswers: (answers: QuestionAnswers) => void;
  /** Back to the field, to type it anew; left out where there is no field. */
  readonly onRetype?: () => void;
}

/** Questions about what was typed, one after the other; each choice says what it would do. */
export function QuestionForm({ id, label, questions, onAnswers, onRetype }: QuestionFormProps) {
  const answers = useSignal<QuestionAnswers>({});
  const noteFor = useSignal<ChoiceView | null>(null);
  const note = useSignal("");
  const open = questions.find((question) => answers.value[question.id] === undefined) ?? questions[0];
  if (open === undefined) return null;

  const give = (choice: ChoiceView, reason: string) => {
    const next = { ...answers.value, [open.id]: { choice: choice.id, note: reason } };
    answers.value = next;
    noteFor.value = null;
    note.value = "";
    if (questions.every((question) => next[question.id] !== undefined)) onAnswers(next);
  };
  const choose = (choice: ChoiceView) => {
    if (choice.needsNote) noteFor.value = choice;
    else give(choice, "");
  };

  return (
    <div class="amber-box question" id={`${id}-question`} role="group" aria-label={`Question: ${label}`}>
      <p class="message">{open.text}</p>
      {noteFor.value === null ? (
        <div class="row">
          {open.choices.map((choice) => (
            <button key={choice.id} type="button" onClick={() => choose(choice)}>
              {choice.label}
              {choice.needsNote ? " …" : ""}
            </button>
          ))}
          {onRetype === undefined ? null : (
            <button type="button" class="plain" onClick={onRetype}>
              Type it again
            </button>
          )}
        </div>
      ) : (
        <div class="row end">
          <div class="field grow">
            <label for={`${id}-note`}>{noteFor.value.label}: why?</label>
            <input
              id={`${id}-note`}
              type="text"
              autocomplete="off"
              ref={(field) => field?.focus()}
              value={note.value}
              onInput={(event) => (note.value = event.currentTarget.value)}
              onKeyDown={(event) => {
                if (event.key !== "Enter" || noteFor.value === null || note.value.trim() === "") return;
                event.preventDefault();
                give(noteFor.value, note.value.trim());
              }}
            />
          </div>
          <button
            type="button"
            disabled={note.value.trim() === ""}
            onClick={() => {
              if (noteFor.value !== null) give(noteFor.value, note.value.trim());
            }}
          >
            Save with this reason
          </button>
          <button type="button" class="plain" onClick={() => (noteFor.value = null)}>
            Back
          </button>
        </div>
      )}
    </div>
  );
}
