import type { FactorDraft } from "../../draft.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import {
  change,
  changeFactor,
  draft,
  emptyCategory,
  emptyQuantity,
  refusals,
  without,
} from "./draft-state.ts";

type QuantityDraft = Extract<FactorDraft, { kind: "quantity" }>;
type CategoryDraft = Extract<FactorDraft, { kind: "category" }>;

const changes = [
  ["easy", "From pass to pass"],
  ["hard", "Only now and then"],
] as const;

function QuantityFields({ factor, index }: { readonly factor: QuantityDraft; readonly index: number }) {
  const id = `factors.${index}`;
  const set = (part: Partial<QuantityDraft>) => changeFactor(index, { ...factor, ...part });
  const field = (name: "name" | "unit" | "low" | "high" | "levels" | "increment" | "today") => ({
    id: `${id}.${name}`,
    value: factor[name],
    onValue: (value: string) => set({ [name]: value }),
    refusal: refusals.value.get(`${id}.${name}`),
  });
  return (
    <div class="row">
      <TextField {...field("name")} label="Name" hint="Such as feed" />
      <TextField {...field("unit")} class="short" label="Unit" list="units" hint="mm/rev, in/rev …" />
      <TextField {...field("low")} class="short" label="Low" numeric="numeric" />
      <TextField {...field("high")} class="short" label="High" numeric="numeric" />
      <TextField
        {...field("levels")}
        label="Settings to cut"
        hint="Such as 0.08 0.12 0.18; empty: spread evenly"
      />
      <ChoiceField
        id={`${id}.scale`}
        label="Spread"
        value={factor.scale}
        choices={[
          ["linear", "In equal steps"],
          ["log", "In equal ratios"],
        ]}
        onValue={(scale) => set({ scale })}
      />
      <TextField
        {...field("increment")}
        class="short"
        label="Machine step"
        numeric="numeric"
        hint="May be left empty"
      />
      <ChoiceField
        id={`${id}.change`}
        label="Can change"
        value={factor.change}
        choices={changes}
        onValue={(value) => set({ change: value })}
      />
      <TextField
        {...field("today")}
        class="short"
        label="Today's setting"
        numeric="numeric"
        hint="To compare with"
      />
    </div>
  );
}

function CategoryFields({ factor, index }: { readonly factor: CategoryDraft; readonly index: number }) {
  const id = `factors.${index}`;
  const set = (part: Partial<CategoryDraft>) => changeFactor(index, { ...factor, ...part });
  return (
    <div class="row">
      <TextField
        id={`${id}.name`}
        label="Name"
        value={factor.name}
        onValue={(name) => set({ name })}
        refusal={refusals.value.get(`${id}.name`)}
        hint="Such as edge"
      />
      <TextField
        id={`${id}.levels`}
        class="grow"
        label="Levels"
        value={factor.levels}
        onValue={(levels) => set({ levels })}
        refusal={refusals.value.get(`${id}.levels`)}
        hint="With commas between: fresh, used. Others are compared with the first."
      />
      <ChoiceField
        id={`${id}.change`}
        label="Can change"
        value={factor.change}
        choices={changes}
        onValue={(value) => set({ change: value })}
      />
      <TextField
        id={`${id}.today`}
        class="short"
        label="Today's setting"
        value={factor.today}
        onValue={(today) => set({ today })}
        refusal={refusals.value.get(`${id}.today`)}
        hint="To compare with"
      />
    </div>
  );
}

/** What is changed from pass to pass. */
export function FactorsPart() {
  const factors = draft.value?.factors ?? [];
  const remove = (index: number) => change({ factors: without(factors, index) });
  const add = (factor: FactorDraft) => {
    change({ factors: [...factors, factor] });
    // Whoever asked for a factor means to name it next.
    requestAnimationFrame(() => document.getElementById(`factors.${factors.length}.name`)?.focus());
  };
  return (
    <section class="view" aria-labelledby="part-factors">
      <h2 id="part-factors">What will be varied?</h2>
      {factors.map((factor, index) => (
        <fieldset class="item" key={index}>
          <legend>
            Factor {index + 1}, {factor.kind === "quantity" ? "a quantity" : "named levels"}
          </legend>
          {factor.kind === "quantity" ? (
            <QuantityFields factor={factor} index={index} />
          ) : (
            <CategoryFields factor={factor} index={index} />
          )}
          <button type="button" class="plain" onClick={() => remove(index)}>
            Remove {factor.name === "" ? `factor ${index + 1}` : factor.name}
          </button>
        </fieldset>
      ))}
      <div class="row">
        <button type="button" onClick={() => add(emptyQuantity)}>
          Add a quantity (feed, speed …)
        </button>
        <button type="button" onClick={() => add(emptyCategory)}>
          Add named levels (edge, coolant …)
        </button>
      </div>
      {refusals.value.get("factors") ? <p class="refusal">{refusals.value.get("factors")}</p> : null}
    </section>
  );
}
