import type { DraftAnswer } from "../../api.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { SearchProgress } from "../search.tsx";
import { Cautions } from "../sheet/notice.tsx";
import { CostTable, Figures, OrderRules, OutlookTable, RunTable } from "../plan/plan-pieces.tsx";
import { answer, changeOutlook, outlook, refusals } from "./draft-state.ts";

function StillNeeded({ said }: { readonly said: DraftAnswer }) {
  const missing = said.problems.filter((problem) => problem.missing);
  const wrong = said.problems.filter((problem) => !problem.missing);
  return (
    <>
      {wrong.length === 0 ? null : (
        <div class="amber-box">
          <strong>To be mended first</strong>
          <ul>
            {wrong.map((problem) => (
              <li key={problem.field + problem.message} class="message">
                {problem.message}
              </li>
            ))}
          </ul>
        </div>
      )}
      {missing.length === 0 ? null : (
        <p class="soft">Still needed: {missing.map((problem) => problem.message).join(" ")}</p>
      )}
    </>
  );
}

/** The plan in one line, always in sight while the form is filled in. */
export function PlanSoFar() {
  const said = answer.value;
  const wrong = said?.problems.filter((problem) => !problem.missing).length ?? 0;
  const missing = said?.problems.filter((problem) => problem.missing).length ?? 0;
  const cost = said?.plan?.cost ?? [];
  const parts = [
    ...cost.map(
      ({ what, used, atHand }) => `${what.toLowerCase()} ${used}${atHand === "" ? "" : ` of ${atHand}`}`,
    ),
    missing > 0 ? `${missing} still needed` : "",
  ].filter((part) => part !== "");
  return (
    <div class="plan-so-far" aria-live="polite">
      <p>
        <strong>Plan so far:</strong> {parts.length === 0 ? "nothing yet" : parts.join(", ")}
        {wrong > 0 ? <span class="refusal">, {wrong} to mend</span> : null}
      </p>
      <a href="#part-outlook">What it can see</a>
    </div>
  );
}

/** What the plan would be, cost and tell, as long as it is only typed. */
export function OutlookPanel() {
  const said = answer.value;
  const { model, confidence } = outlook.value;
  return (
    <section class="view" aria-labelledby="part-outlook">
      <h2 id="part-outlook">What this plan can see</h2>
      <div class="row">
        <TextField
          id="confidence"
          class="short"
          label="Confidence, %"
          value={confidence}
          onValue={(value) => changeOutlook({ confidence: value })}
          refusal={refusals.value.get("confidence")}
        />
        <ChoiceField
          id="model"
          label="Effects to tell"
          value={model}
          choices={[
            ["main", "Each factor by itself"],
            ["interactions", "and pairs of factors"],
            ["surface", "and curvature"],
          ]}
          onValue={(value) => changeOutlook({ model: value })}
        />
      </div>
      {said === null ? (
        <p class="soft">The plan shows here as soon as there is a factor with its range.</p>
      ) : (
        <StillNeeded said={said} />
      )}
      <SearchProgress />
      {said?.plan ? (
        <>
          {"refusal" in said.plan.outlook ? (
            <p class="refusal">{said.plan.outlook.refusal}</p>
          ) : (
            <OutlookTable outlook={said.plan.outlook} />
          )}
          <CostTable cost={said.plan.cost} />
          <OrderRules plan={said.plan} />
          <Figures
            figures={[
              ...said.plan.figures,
              ...("refusal" in said.plan.outlook ? [] : said.plan.outlook.figures),
            ]}
          />
          <details>
            <summary>The {said.plan.runs.length} runs in cutting order</summary>
            <RunTable plan={said.plan} />
          </details>
          <Cautions cautions={said.plan.cautions} />
        </>
      ) : null}
    </section>
  );
}
