import { signal } from "@preact/signals";
import type { FitView, ReviewAnswer } from "../../api.ts";
import { ask, messageOf } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { useLoading } from "../loading.ts";
import { addressOf, changeQuery, place } from "../place.ts";
import { Figures } from "../plan/plan-pieces.tsx";
import { Entries, Made } from "../sheet/made.tsx";
import { Refusal, Waiting } from "../sheet/notice.tsx";
import { TrialSheetFrame } from "../trials/trial-sheet.tsx";
import { DoneForm } from "./done-form.tsx";
import { LevelsPart, ScatterPart } from "./levels-part.tsx";
import { RecipePart } from "./recipe-part.tsx";
import { RemarkList } from "./remark-list.tsx";
import { Method } from "./told.tsx";

const answer = signal<ReviewAnswer | null>(null);
const failure = signal("");
/** How many runs were just added to the plan; the remark that wanted them may be gone by then. */
const added = signal(0);

const models = [
  ["power-law", "Power law"],
  ["bent-power-law", "Power law with pairs and curvature"],
  ["main", "Each factor by itself"],
  ["interactions", "Factors and their pairs"],
  ["surface", "Factors, pairs and curvature"],
] as const;

const fields = ["response", "model", "confidence", "compare", "control", "margin"];

function questionIn(query: URLSearchParams): string {
  const asked = new URLSearchParams();
  for (const name of fields) {
    const value = query.get(name);
    if (value !== null && value !== "") asked.set(name, value);
  }
  return asked.toString();
}

async function load(trial: string): Promise<void> {
  const query = questionIn(place.peek().query);
  try {
    const got = await ask<ReviewAnswer>(
      `/api/trials/${encodeURIComponent(trial)}/review${query === "" ? "" : `?${query}`}`,
    );
    if (query !== questionIn(place.peek().query)) return;
    answer.value = got;
    failure.value = "";
  } catch (error) {
    failure.value = messageOf(error);
  }
}

function set(name: string, value: string): void {
  changeQuery({ [name]: value === "" ? null : value });
}

function ModelForm({ got }: { readonly got: ReviewAnswer }) {
  const { asked, responses } = got;
  const model = models.find(([name]) => name === asked.model)?.[0] ?? "main";
  return (
    <div class="row no-print">
      {responses.length < 2 ? null : (
        <ChoiceField
          id="response"
          label="Response"
          value={asked.response}
          choices={responses.map(({ name }) => [name, name] as const)}
          onValue={(value) => set("response", value)}
        />
      )}
      <ChoiceField
        id="model"
        label="Model"
        value={model}
        choices={models}
        onValue={(value) => set("model", value)}
      />
      <TextField
        id="confidence"
        class="short"
        label="Confidence, %"
        value={place.value.query.get("confidence") ?? ""}
        onValue={(value) => set("confidence", value)}
        hint="95 unless stated"
      />
    </div>
  );
}

interface FitPartProps {
  readonly got: ReviewAnswer;
  readonly fit: FitView;
  readonly onAdded: (count: number) => void;
}

function FitPart({ got, fit, onAdded }: FitPartProps) {
  return (
    <>
      <section class="view" aria-labelledby="effects">
        <h2 id="effects">What moves {got.asked.response}</h2>
        <ModelForm got={got} />
        {fit.why === "" ? null : <p class="soft small measure">{fit.why}</p>}
        {fit.picked.length === 0 ? null : (
          <div class="amber-box" id="picked">
            <p>
              <strong>This model was picked after the readings were in.</strong>
            </p>
            {fit.picked.map((text) => (
              <p key={text}>{text}</p>
            ))}
          </div>
        )}
        {fit.cautions.map((text) => (
          <p class="amber-box" key={text}>
            {text}
          </p>
        ))}
        <Entries class="figures">
          <div class="sentences">
            {fit.sentences.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </div>
          {fit.figures.map((html, index) => (
            <Made key={index} html={html} />
          ))}
        </Entries>
        <Method texts={fit.methods.effects} />
      </section>
      {fit.levels === null ? null : <LevelsPart response={got.asked.response} view={fit.levels} />}
      {fit.scatter === null ? null : <ScatterPart response={got.asked.response} view={fit.scatter} />}
      <RecipePart trial={got.head.name} stamp={`${got.head.checksum} ${got.asked.model}`} onAdded={onAdded} />
      <section class="view" aria-labelledby="checks">
        <h2 id="checks">Can the model be believed?</h2>
        <dl class="facts">
          {fit.facts.map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
        {fit.leftOut === "" ? null : <p class="measure">{fit.leftOut}</p>}
        <ul class="measure small">
          {fit.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
        <Figures figures={fit.checks} />
        <Method texts={fit.methods.checks} />
        <details>
          <summary>The tables behind it</summary>
          <Entries>
            {fit.tables.map((html, index) => (
              <Made key={index} html={html} />
            ))}
          </Entries>
        </details>
      </section>
    </>
  );
}

function Added({ trial }: { readonly trial: string }) {
  if (added.value === 0) return null;
  return (
    <p class="done-note">
      {added.value} {added.value === 1 ? "run was" : "runs were"} added to the plan.{" "}
      <a href={addressOf("trials", trial, "run-sheet")}>
        Cut {added.value === 1 ? "it" : "them"} by the run sheet
      </a>
    </p>
  );
}

/** What the readings of a trial show, how sure that is, and what they can't tell. */
export function ReviewPage({ trial }: { readonly trial: string }) {
  useLoading(trial, {
    reset: () => {
      answer.value = null;
      added.value = 0;
    },
    load,
    asked: () => questionIn(place.value.query),
    pauseMs: 250,
    isShown: () => answer.peek() !== null,
  });
  const got = answer.value;
  const onAdded = (count: number) => {
    added.value = count;
    void load(trial);
  };
  return (
    <TrialSheetFrame
      trial={trial}
      sheet="review"
      head={got?.head ?? null}
      heading="Review"
      lead="What the readings show, how sure that is, and what they can't tell."
      beside={
        got === null || got.head.runs === 0 ? null : (
          <>
            <a class="no-print" href={addressOf("trials", trial, "grow")}>
              Grow this trial
            </a>
            {got.fit ? (
              <DoneForm trial={trial} got={got} onFailure={(message) => (failure.value = message)} />
            ) : null}
          </>
        )
      }
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {got === null ? (
        failure.value === "" ? (
          <Waiting what="The review is on its way." />
        ) : null
      ) : (
        <>
          {got.fit === null && got.remarks.length === 0 ? null : (
            <section class="view" aria-labelledby="remarks">
              <h2 id="remarks">Remarks</h2>
              <Added trial={trial} />
              <RemarkList trial={trial} remarks={got.remarks} onAdded={onAdded} />
            </section>
          )}
          {got.fit === null ? (
            <section class="view" aria-labelledby="effects">
              <h2 id="effects">What moves {got.asked.response}</h2>
              <ModelForm got={got} />
              <Refusal message={got.refusal}>
                <p>
                  <a href={addressOf("trials", trial, "run-sheet")}>Go to the run sheet</a>
                </p>
              </Refusal>
            </section>
          ) : (
            <FitPart got={got} fit={got.fit} onAdded={onAdded} />
          )}
        </>
      )}
    </TrialSheetFrame>
  );
}
