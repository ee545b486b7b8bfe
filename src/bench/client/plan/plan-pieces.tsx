import type { CostLine, FactorView, OutlookView, PlanView } from "../../api.ts";
import { Entries, Made } from "../sheet/made.tsx";

/** What is varied and what stays still. */
export function FactorList({ factors, held }: Pick<PlanView, "factors" | "held">) {
  return (
    <dl class="facts">
      {factors.map((factor: FactorView) => (
        <div key={factor.name}>
          <dt>{factor.name}</dt>
          <dd>
            {factor.range}
            {factor.hardToChange ? ", hard to change" : ""}
          </dd>
        </div>
      ))}
      {held.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}, held</dd>
        </div>
      ))}
    </dl>
  );
}

function CostBar({ line }: { readonly line: CostLine }) {
  const over = line.share !== null && line.share > 1;
  return (
    <tr>
      <th scope="row">{line.what}</th>
      <td class="number">{line.used}</td>
      <td class="number">{line.atHand === "" ? "not stated" : line.atHand}</td>
      <td>
        {line.share === null ? null : (
          <svg
            class={over ? "share over" : "share"}
            viewBox="0 0 100 10"
            preserveAspectRatio="none"
            aria-hidden="true"
          >
            <rect class="at-hand" width="100" height="10" />
            <rect class="used" width={Math.min(100, 100 * line.share)} height="10" />
          </svg>
        )}
        {over ? <strong class="refusal">more than is at hand</strong> : null}
      </td>
    </tr>
  );
}

/** What the plan uses up, against what is at hand. */
export function CostTable({ cost }: { readonly cost: readonly CostLine[] }) {
  if (cost.length === 0) return null;
  return (
    <div class="scroll">
      <table>
        <thead>
          <tr>
            <th scope="col">Uses</th>
            <th scope="col" class="number">
              Plan
            </th>
            <th scope="col" class="number">
              At hand
            </th>
            <th scope="col">
              <span class="heard-only">Share used</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {cost.map((line) => (
            <CostBar key={line.what} line={line} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** What the plan can see, term by term. */
export function OutlookTable({ outlook }: { readonly outlook: OutlookView }) {
  const hasPower = outlook.rows.some(({ power }) => power !== "");
  return (
    <>
      <div class="measure sentences">
        {outlook.sentences.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        {outlook.note === "" ? null : <p class="soft">{outlook.note}</p>}
      </div>
      {outlook.inseparable.length === 0 ? null : (
        <div class="amber-box">
          <strong>Can't be told apart</strong>
          <ul>
            {outlook.inseparable.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </div>
      )}
      <div class="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Effect of</th>
              <th scope="col" class="number">
                Known to within
              </th>
              {hasPower ? (
                <th scope="col" class="number">
                  Chance of seeing it
                </th>
              ) : null}
              <th scope="col" class="number">
                Moves with time
              </th>
            </tr>
          </thead>
          <tbody>
            {outlook.rows.map((row) => (
              <tr key={row.label}>
                <th scope="row">{row.label}</th>
                <td class="number">{row.halfWidth}</td>
                {hasPower ? <td class="number">{row.power}</td> : null}
                <td class="number">
                  {row.withOrder}
                  {row.followsOrder ? <strong class="refusal"> with the order</strong> : null}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

/** The runs in cutting order. */
export function RunTable({ plan }: { readonly plan: PlanView }) {
  return (
    <div class="scroll">
      <table class="runs">
        <thead>
          <tr>
            <th scope="col" class="number">
              Run
            </th>
            {plan.factors.map(({ name }) => (
              <th scope="col" class="number" key={name}>
                {name}
              </th>
            ))}
            {plan.conditions.map((name) => (
              <th scope="col" class="number soft" key={name}>
                {name}
              </th>
            ))}
            <th scope="col">Role</th>
            {plan.blocks > 1 ? <th scope="col">Block</th> : null}
          </tr>
        </thead>
        <tbody>
          {plan.runs.flatMap((run) => [
            ...(run.setUp === ""
              ? []
              : [
                  <tr key={run.setUp} class="block-start">
                    <th colSpan={plan.factors.length + plan.conditions.length + 3} scope="rowgroup">
                      {run.setUp}
                    </th>
                  </tr>,
                ]),
            ...run.endsBefore.map((text) => (
              <tr key={text} class="budget-end">
                <td colSpan={plan.factors.length + plan.conditions.length + 3}>{text}</td>
              </tr>
            )),
            <tr key={run.run}>
              <th scope="row" class="number">
                {run.run}
              </th>
              {run.settings.map((text, index) => (
                <td class="number" key={index}>
                  {text}
                </td>
              ))}
              {run.conditions.map((text, index) => (
                <td class="number soft" key={index}>
                  {text}
                </td>
              ))}
              <td>{run.role}</td>
              {plan.blocks > 1 ? <td>{run.block}</td> : null}
            </tr>,
          ])}
        </tbody>
      </table>
    </div>
  );
}

/** Rules that the order obeys and notes of the layout. */
export function OrderRules({ plan }: { readonly plan: Pick<PlanView, "orderRules" | "notes"> }) {
  const lines = [...plan.orderRules, ...plan.notes];
  if (lines.length === 0) return null;
  return (
    <ul class="measure">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** Figures made by the library, numbered through. */
export function Figures({ figures }: { readonly figures: readonly string[] }) {
  return (
    <Entries class="figures">
      {figures.map((html, index) => (
        <Made key={index} html={html} />
      ))}
    </Entries>
  );
}
