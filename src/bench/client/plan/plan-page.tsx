import { signal } from "@preact/signals";
import type { PlanAnswer, PlanView } from "../../api.ts";
import { ask, messageOf, tell } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { useLoading } from "../loading.ts";
import { addressOf, changeQuery, place } from "../place.ts";
import { Cautions, Refusal, Waiting } from "../sheet/notice.tsx";
import { TrialSheetFrame } from "../trials/trial-sheet.tsx";
import { CostTable, FactorList, Figures, OrderRules, OutlookTable, RunTable } from "./plan-pieces.tsx";

const answer = signal<PlanAnswer | null>(null);
const failure = signal("");

const models = [
  ["main", "Each factor by itself"],
  ["interactions", "and pairs of factors"],
  ["surface", "and curvature"],
] as const;

function questionsIn(query: URLSearchParams): string {
  const asked = new URLSearchParams();
  for (const name of ["sigma", "effect", "confidence", "model"]) {
    const value = query.get(name);
    if (value !== null && value !== "") asked.set(name, value);
  }
  return asked.toString();
}

async function load(trial: string): Promise<void> {
  const query = questionsIn(place.peek().query);
  try {
    const got = await ask<PlanAnswer>(
      `/api/trials/${encodeURIComponent(trial)}/plan${query === "" ? "" : `?${query}`}`,
    );
    if (query !== questionsIn(place.peek().query)) return;
    answer.value = got;
    failure.value = "";
  } catch (error) {
    failure.value = messageOf(error);
  }
}

function JudgeForm({ unit }: { readonly unit: string }) {
  const { query } = place.value;
  const field = (name: string) => ({
    id: name,
    value: query.get(name) ?? "",
    onValue: (value: string) => changeQuery({ [name]: value === "" ? null : value }),
  });
  const model = models.find(([name]) => name === query.get("model"))?.[0] ?? "main";
  return (
    <div class="row no-print">
      <TextField
        {...field("sigma")}
        class="short"
        label="Scatter from pass to pass, guessed"
        hint={`In ${unit}`}
      />
      <TextField
        {...field("effect")}
        class="short"
        label="Smallest change worth seeing"
        hint={`In ${unit}`}
      />
      <TextField {...field("confidence")} class="short" label="Confidence, %" hint="95 unless stated" />
      <ChoiceField
        id="model"
        label="Effects to tell"
        value={model}
        choices={models}
        onValue={(value) => changeQuery({ model: value })}
      />
    </div>
  );
}

function NotLaidOut({ trial }: { readonly trial: string }) {
  const layOut = () => {
    tell(`/api/trials/${encodeURIComponent(trial)}/plan`, {}).then(
      () => load(trial),
      (error: unknown) => (failure.value = messageOf(error)),
    );
  };
  return (
    <div class="view measure">
      <p>The trial states its factors and its layout, but no runs are written yet.</p>
      <div>
        <button type="button" class="first" onClick={layOut}>
          Lay out the runs
        </button>
      </div>
    </div>
  );
}

function Plan({ got, plan }: { readonly got: PlanAnswer; readonly plan: PlanView }) {
  return (
    <>
      <section class="view" aria-labelledby="varied">
        <h2 id="varied">What is varied, what stays still</h2>
        <FactorList factors={plan.factors} held={plan.held} />
      </section>
      <section class="view" aria-labelledby="order">
        <h2 id="order">The passes and their order</h2>
        <OrderRules plan={plan} />
        <Figures figures={plan.figures} />
        <CostTable cost={plan.cost} />
      </section>
      <section class="view" aria-labelledby="sees">
        <h2 id="sees">What this plan can see</h2>
        <JudgeForm unit={got.responseUnit} />
        {"refusal" in plan.outlook ? (
          <p class="refusal message">{plan.outlook.refusal}</p>
        ) : (
          <OutlookTable outlook={plan.outlook} />
        )}
        {"refusal" in plan.outlook ? null : <Figures figures={plan.outlook.figures} />}
      </section>
      <Cautions cautions={plan.cautions} />
      <section class="view" aria-labelledby="runs">
        <h2 id="runs">The runs in cutting order</h2>
        <RunTable plan={plan} />
      </section>
    </>
  );
}

/** A trial's plan: what is cut, in which order, what it costs and what it can tell. */
export function PlanPage({ trial }: { readonly trial: string }) {
  useLoading(trial, {
    reset: () => (answer.value = null),
    load,
    asked: () => questionsIn(place.value.query),
    pauseMs: 200,
    isShown: () => answer.peek() !== null,
  });
  const got = answer.value;
  return (
    <TrialSheetFrame
      trial={trial}
      sheet="plan"
      head={got?.head ?? null}
      heading="Plan"
      lead="Which passes, in which order, at what cost, and how small a change they can show."
      beside={
        <a class="button first no-print" href={addressOf("trials", trial, "run-sheet")}>
          To the run sheet
        </a>
      }
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {got === null ? (
        failure.value === "" ? (
          <Waiting what="The plan is on its way." />
        ) : null
      ) : got.plan === null ? (
        <NotLaidOut trial={trial} />
      ) : (
        <Plan got={got} plan={got.plan} />
      )}
    </TrialSheetFrame>
  );
}
