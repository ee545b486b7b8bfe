import { signal } from "@preact/signals";
import type { GrowthAnswer, GrowthPreview } from "../../growth-api.ts";
import { announce } from "../announce.tsx";
import { ask, messageOf, tell } from "../ask.ts";
import { useLoading } from "../loading.ts";
import { addressOf } from "../place.ts";
import { Refusal, Waiting } from "../sheet/notice.tsx";
import { TextTable } from "../sheet/text-table.tsx";
import { TrialSheetFrame } from "../trials/trial-sheet.tsx";
import { form, GrowFields } from "./grow-fields.tsx";

const answer = signal<GrowthAnswer | null>(null);
const failure = signal("");
const refusal = signal("");
/** What the form would add, and the form that it was made for. */
const shown = signal<{
  readonly preview: GrowthPreview;
  readonly form: Readonly<Record<string, string>>;
} | null>(null);
const added = signal(0);
const busy = signal(false);

const addressFor = (trial: string) => `/api/trials/${encodeURIComponent(trial)}/growth`;

async function load(trial: string): Promise<void> {
  try {
    answer.value = await ask<GrowthAnswer>(addressFor(trial));
    failure.value = "";
  } catch (error) {
    failure.value = messageOf(error);
  }
}

async function look(trial: string): Promise<void> {
  busy.value = true;
  added.value = 0;
  const asked = form.value;
  try {
    const preview = await tell<GrowthPreview>(addressFor(trial), asked);
    shown.value = { preview, form: asked };
    refusal.value = "";
    announce(`${preview.rows.length} runs would be added; nothing is written yet.`);
  } catch (error) {
    shown.value = null;
    refusal.value = messageOf(error);
  } finally {
    busy.value = false;
  }
}

async function add(trial: string): Promise<void> {
  const at = shown.value;
  if (at === null) return;
  busy.value = true;
  try {
    const done = await tell<{ readonly added: number }>(`${addressFor(trial)}/runs`, {
      form: at.form,
      onto: at.preview.onto,
    });
    added.value = done.added;
    shown.value = null;
    refusal.value = "";
    announce(`${done.added} runs added to the plan.`);
    await load(trial);
  } catch (error) {
    refusal.value = messageOf(error);
  } finally {
    busy.value = false;
  }
}

function Preview({ trial, preview }: { readonly trial: string; readonly preview: GrowthPreview }) {
  const count = preview.rows.length;
  const changed = shown.value?.form !== form.value;
  return (
    <section class="view" aria-labelledby="preview">
      <h2 id="preview">
        {count} {count === 1 ? "run" : "runs"} would be added
      </h2>
      <h3>What {count === 1 ? "it brings" : "they bring"}</h3>
      <div class="sentences measure">
        {preview.brings.map((text) => (
          <p key={text}>{text}</p>
        ))}
      </div>
      <div class="scroll" tabIndex={0} role="region" aria-label="Runs that would be added">
        <TextTable columns={preview.columns} rows={preview.rows} />
      </div>
      <h3>Order and place</h3>
      <ul class="measure small">
        {preview.rules.map((rule) => (
          <li key={rule}>{rule}</li>
        ))}
      </ul>
      {changed ? <p class="soft">The form was changed since: look again before adding.</p> : null}
      <div class="row">
        <button
          type="button"
          class="first no-print"
          disabled={busy.value || changed}
          onClick={() => void add(trial)}
        >
          Add {count === 1 ? "this run" : `these ${count} runs`} to the plan
        </button>
      </div>
    </section>
  );
}

function About({ got }: { readonly got: GrowthAnswer }) {
  const by = form.value["by"];
  if (by === "fold") {
    return got.folds.length === 0 ? (
      <p class="soft measure">{got.noFold}</p>
    ) : (
      <details>
        <summary>What each fold frees</summary>
        <ul class="measure small">
          {got.folds.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </details>
    );
  }
  if (by === "proof" || by === "replicate") {
    return (
      <p class="soft measure">
        {got.recipe === "" ? `No recipe to go by: ${got.noRecipe}.` : `The recipe: ${got.recipe}`}
      </p>
    );
  }
  return null;
}

/** Carries a trial on: choose how, look at what it brings, add. */
export function GrowPage({ trial }: { readonly trial: string }) {
  useLoading(trial, {
    reset: () => {
      answer.value = null;
      shown.value = null;
      refusal.value = "";
      added.value = 0;
      form.value = { by: "fold" };
    },
    load,
    isShown: () => answer.peek() !== null,
  });
  const got = answer.value;
  return (
    <TrialSheetFrame
      trial={trial}
      sheet="review"
      head={got?.head ?? null}
      heading="Grow"
      lead="The runs that would carry the trial on, and what they would bring. Nothing is written before you add them."
      beside={<a href={addressOf("trials", trial, "review")}>Back to the review</a>}
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {got === null ? (
        failure.value === "" ? (
          <Waiting what="The trial is on its way." />
        ) : null
      ) : (
        <>
          <form
            class="view no-print"
            onSubmit={(event) => {
              event.preventDefault();
              void look(trial);
            }}
          >
            <GrowFields factors={got.factors} />
            <About got={got} />
            <div class="row">
              <button type="submit" disabled={busy.value}>
                Show what this would add
              </button>
            </div>
          </form>
          {refusal.value === "" ? null : <Refusal message={refusal.value} />}
          {added.value === 0 ? null : (
            <p class="done-note" role="status">
              {added.value} {added.value === 1 ? "run was" : "runs were"} added to the plan.{" "}
              <a href={addressOf("trials", trial, "run-sheet")}>
                Cut {added.value === 1 ? "it" : "them"} by the run sheet
              </a>
            </p>
          )}
          {shown.value === null ? null : <Preview trial={trial} preview={shown.value.preview} />}
        </>
      )}
    </TrialSheetFrame>
  );
}
