import { useEffect } from "preact/hooks";
import type { CandidateView, ChoiceAnswer } from "../../choice-api.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { Figures } from "../plan/plan-pieces.tsx";
import { Refusal } from "../sheet/notice.tsx";
import {
  choice,
  choiceFailure,
  choose,
  choosing,
  isTaken,
  mark,
  marked,
  take,
  watchChoice,
} from "./choice-state.ts";
import { Comparison } from "./comparison.tsx";
import { change, changeOutlook, draft, outlook, refusals } from "./draft-state.ts";

const stakes = [
  ["which-matter", "Which factors matter?"],
  ["how-they-combine", "Does one factor change the effect of another?"],
  ["how-curved", "Where does the effect of a factor bend?"],
  ["best-setting", "Which setting is best?"],
] as const;

/** What was wrong or missing when layouts were last asked for, by field. */
function said(field: string): string | undefined {
  return (
    choice.value?.problems.find((problem) => problem.field === field)?.message ?? refusals.value.get(field)
  );
}

function StakeFields() {
  const form = draft.value;
  const { stake, sigma, effect } = outlook.value;
  if (form === null) return null;
  const unit = form.responses[0]?.unit ?? "";
  const inUnit = unit === "" ? "" : ` ${unit}`;
  return (
    <div class="grid">
      <ChoiceField
        id="stake"
        label="The question"
        class="wide"
        value={stake}
        choices={stakes}
        onValue={(value) => changeOutlook({ stake: value })}
        refusal={said("stake")}
      />
      <TextField
        id="budget.passes"
        label="Passes at hand"
        hint="Such as 24"
        numeric="numeric"
        value={form.budget["passes"] ?? ""}
        onValue={(passes) => change({ budget: { ...form.budget, passes } })}
        refusal={said("budget.passes")}
      />
      <TextField
        id="sigma"
        label="Scatter from pass to pass, guessed"
        hint={`Such as 0.05${inUnit}, or 0.03 to 0.06${inUnit}; empty: not known`}
        value={sigma}
        onValue={(value) => changeOutlook({ sigma: value })}
        refusal={said("sigma")}
      />
      <TextField
        id="effect"
        label="Smallest change worth seeing"
        hint={unit === "" ? "From low to high" : `In ${unit}, from low to high`}
        value={effect}
        onValue={(value) => changeOutlook({ effect: value })}
        refusal={said("effect")}
      />
    </div>
  );
}

const answersWords = {
  yes: "",
  "with-reservation": "answers with a reservation",
  no: "does not answer the question",
} as const;

function Card({ candidate, number }: { readonly candidate: CandidateView; readonly number: number }) {
  const { id, title, cost, tells, cannot, answers, recommended } = candidate;
  const taken = isTaken(candidate);
  return (
    <div class={taken ? "candidate taken" : "candidate"}>
      <label class="take">
        <input
          type="radio"
          name="candidate"
          aria-describedby={`candidate-${id}`}
          checked={taken}
          onChange={() => take(candidate)}
        />
        <span>
          {number}. {title}
        </span>
      </label>
      <div id={`candidate-${id}`} class="small">
        {recommended === "" ? null : (
          <p>
            <strong>Recommended.</strong> {recommended}
          </p>
        )}
        <p class="cost">{cost.join(" · ")}</p>
        {answersWords[answers] === "" ? null : <p class="refusal">This layout {answersWords[answers]}.</p>}
        {tells.length === 0 ? null : (
          <ul>
            {tells.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        )}
        {cannot.length === 0 ? null : (
          <ul class="cannot">
            {cannot.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        )}
      </div>
      <label class="compare">
        <input
          type="checkbox"
          checked={marked.value.includes(id)}
          onChange={(event) => mark(id, event.currentTarget.checked)}
        />
        Compare <span class="heard-only">{title}</span>
      </label>
    </div>
  );
}

function Choices({ got }: { readonly got: ChoiceAnswer }) {
  const wrong = got.problems.filter(({ field }) => document.getElementById(field) === null);
  return (
    <>
      {wrong.length === 0 ? null : (
        <p class="soft">Still needed: {wrong.map(({ message }) => message).join(" ")}</p>
      )}
      {got.advice.length === 0 ? null : (
        <div class="measure sentences">
          {got.advice.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </div>
      )}
      {got.instead.length === 0 ? null : (
        <div class="amber-box">
          <strong>What these passes can answer</strong>
          <ul>
            {got.instead.map(({ text }) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </div>
      )}
      {got.candidates.length === 0 ? null : (
        <>
          <Figures figures={got.figures} />
          <fieldset class="candidates">
            <legend>Layouts that fit, the best first: take one, or mark two to compare</legend>
            {got.candidates.map((candidate, index) => (
              <Card key={candidate.id} candidate={candidate} number={index + 1} />
            ))}
          </fieldset>
          <Comparison />
        </>
      )}
      {got.refused.length === 0 ? null : (
        <details>
          <summary>{got.refused.length} that can't be cut here, and why</summary>
          <ul class="measure">
            {got.refused.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

/** What is at stake, and the layouts that would answer it with the passes at hand. */
export function ChoosePart() {
  useEffect(() => watchChoice(), []);
  const got = choice.value;
  return (
    <section class="view" aria-labelledby="part-choose">
      <h2 id="part-choose">What is at stake?</h2>
      <StakeFields />
      <div>
        <button type="button" disabled={choosing.value} onClick={() => void choose()}>
          Show the layouts that fit
        </button>
      </div>
      {choiceFailure.value === "" ? null : <Refusal message={choiceFailure.value} />}
      {got === null ? null : <Choices got={got} />}
    </section>
  );
}
