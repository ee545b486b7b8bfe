import { QuestionForm } from "../fields/question-form.tsx";
import { TextField } from "../fields/text-field.tsx";
import { useSignal } from "@preact/signals";
import { changeTable, preview, table } from "./import-state.ts";

const shownQuestions = 8;

function Answered() {
  const { answers } = table.value;
  const ids = Object.keys(answers);
  if (ids.length === 0) return null;
  const takeBack = (id: string) =>
    changeTable({ answers: Object.fromEntries(Object.entries(answers).filter(([key]) => key !== id)) });
  return (
    <details>
      <summary>
        {ids.length} {ids.length === 1 ? "question" : "questions"} answered
      </summary>
      <ul>
        {ids.map((id) => (
          <li key={id}>
            {id}: {answers[id]?.choice}
            {answers[id]?.note ? `, ${answers[id].note}` : ""}{" "}
            <button type="button" class="plain" onClick={() => takeBack(id)}>
              Take back<span class="heard-only"> the answer on {id}</span>
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

function KeepAll({ count }: { readonly count: number }) {
  const why = useSignal("");
  return (
    <div class="row end">
      <TextField
        id="keep-all"
        class="grow"
        label={`Keep all ${count} as they stand, because`}
        value={why.value}
        onValue={(text) => (why.value = text)}
        hint="The reason stays in the note of each reading"
      />
      <button
        type="button"
        disabled={why.value.trim() === ""}
        onClick={() => changeTable({ force: why.value.trim() })}
      >
        Keep all
      </button>
    </div>
  );
}

/** What must be mended in the table, and what is asked about it. */
export function MattersPart() {
  const now = preview.value;
  if (now === null) return null;
  const { problems, questions } = now;
  const doubtful = questions.filter(({ id }) => id.startsWith("reading "));
  return (
    <>
      {problems.length === 0 ? null : (
        <div class="amber-box" role="alert">
          <strong>To be mended first</strong>
          <ul>
            {problems.slice(0, 20).map((text) => (
              <li key={text} class="message">
                {text}
              </li>
            ))}
          </ul>
          {problems.length > 20 ? <p>and {problems.length - 20} more</p> : null}
        </div>
      )}
      {questions.slice(0, shownQuestions).map((question) => (
        <QuestionForm
          key={question.id}
          id={`question-${question.id}`}
          label={question.text}
          questions={[question]}
          onAnswers={(given) => changeTable({ answers: { ...table.value.answers, ...given } })}
        />
      ))}
      {questions.length > shownQuestions ? (
        <p>and {questions.length - shownQuestions} more questions</p>
      ) : null}
      {doubtful.length > 1 ? <KeepAll count={doubtful.length} /> : null}
      <Answered />
    </>
  );
}
