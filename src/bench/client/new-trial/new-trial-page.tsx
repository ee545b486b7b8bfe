import { effect, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { DraftAnswer, FormAnswer } from "../../api.ts";
import { announce } from "../announce.tsx";
import { searchFor } from "../search.tsx";
import { ask, messageOf, tell } from "../ask.ts";
import { addressOf, go } from "../place.ts";
import { Refusal, Waiting } from "../sheet/notice.tsx";
import { Sheet } from "../sheet/sheet.tsx";
import { answer, draft, emptyForm, forgetForm, form, openForm, outlook, wanted } from "./draft-state.ts";
import { ChoosePart } from "./choose-part.tsx";
import { FactorsPart } from "./factors-part.tsx";
import { LayoutPart } from "./layout-part.tsx";
import { OutlookPanel, PlanSoFar } from "./outlook-panel.tsx";
import { QuestionPart } from "./question-part.tsx";
import { ResponsesPart } from "./responses-part.tsx";
import { SetupPart } from "./setup-part.tsx";

const failure = signal("");
const busy = signal(false);

const pauseMs = 250;

/** Asks what the form would give, once the typing pauses; the answer to an older state is thrown away. */
function watchForm(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let asking: AbortController | undefined;
  const stop = effect(() => {
    const body = { draft: draft.value, outlook: outlook.value };
    if (body.draft === null) return;
    clearTimeout(timer);
    timer = setTimeout(() => {
      asking?.abort();
      asking = new AbortController();
      const { signal: current } = asking;
      tell<DraftAnswer>("/api/drafts", body, { signal: current })
        .then(async (said) => {
          answer.value = said;
          failure.value = "";
          if (!said.toSearch) return;
          await searchFor({ draft: body.draft }, { signal: current });
          answer.value = await tell<DraftAnswer>("/api/drafts", body, { signal: current });
        })
        .catch((error: unknown) => {
          if (!current.aborted) failure.value = messageOf(error);
        });
    }, pauseMs);
  });
  return () => {
    stop();
    clearTimeout(timer);
    asking?.abort();
  };
}

function focusFirstRefusal(): void {
  requestAnimationFrame(() => document.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus());
}

async function createTrial(event: Event): Promise<void> {
  event.preventDefault();
  if (busy.value) return;
  busy.value = true;
  wanted.value = true;
  failure.value = "";
  try {
    const said = await tell<DraftAnswer>("/api/drafts", { draft: draft.value, outlook: outlook.value });
    answer.value = said;
    if (said.problems.length > 0) {
      announce(`Not created yet. ${said.problems.map((problem) => problem.message).join(" ")}`);
      focusFirstRefusal();
      return;
    }
    const { name } = await tell<{ name: string }>("/api/trials", { draft: draft.value });
    forgetForm();
    announce(`Trial ${name} created.`);
    go(addressOf("trials", name, "plan"));
  } catch (error) {
    failure.value = messageOf(error);
  } finally {
    busy.value = false;
  }
}

function Form() {
  return (
    <form onSubmit={(event) => void createTrial(event)} class="long-form" noValidate>
      <datalist id="units">
        {(form.value?.units ?? []).map((unit) => (
          <option key={unit} value={unit} />
        ))}
      </datalist>
      <QuestionPart />
      <ResponsesPart />
      <FactorsPart />
      <SetupPart />
      <ChoosePart />
      <LayoutPart />
      <OutlookPanel />
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      <div class="row">
        <button type="submit" class="first" disabled={busy.value}>
          Create the trial
        </button>
        <button type="button" class="plain" onClick={emptyForm}>
          Empty the form
        </button>
      </div>
      <PlanSoFar />
    </form>
  );
}

/** From a question to a plan: filled in, judged while it is typed, and committed by one button. */
export function NewTrialPage() {
  useEffect(() => {
    ask<FormAnswer>("/api/form").then(openForm, (error: unknown) => (failure.value = messageOf(error)));
    const stop = watchForm();
    return stop;
  }, []);
  const runs = answer.value?.plan?.runs.length;
  const cells = [
    { label: "Sheet", value: "New trial", size: "wide" as const },
    { label: "Runs", value: runs === undefined ? "" : String(runs) },
    { label: "Folder", value: draft.value?.name ?? "", size: "widest" as const },
  ];
  return (
    <Sheet
      heading="Plan a trial"
      lead="Say what you want to know and what can be varied. What the plan would cost and could tell shows below before anything is written."
      cells={cells}
    >
      {draft.value === null ? (
        failure.value === "" ? (
          <Waiting what="The form is on its way." />
        ) : (
          <Refusal message={failure.value} />
        )
      ) : (
        <Form />
      )}
    </Sheet>
  );
}
