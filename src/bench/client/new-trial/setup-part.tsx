import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import type { Draft } from "../../draft.ts";
import { change, draft, refusals, without } from "./draft-state.ts";

type Group = "cutter" | "machine" | "pass" | "budget" | "measurement";

interface SetupField {
  readonly group: Group;
  readonly name: string;
  readonly label: string;
  readonly hint: string;
}

const limits: readonly SetupField[] = [
  { group: "cutter", name: "diameter", label: "Cutter or work diameter", hint: "Such as 80 mm, 3.15 in" },
  { group: "cutter", name: "noseRadius", label: "Nose radius", hint: "Such as 0.8 mm" },
  { group: "cutter", name: "teeth", label: "Teeth", hint: "A whole number" },
  { group: "cutter", name: "maxSpeed", label: "Cutter's speed limit", hint: "Such as 8000 rev/min" },
  { group: "cutter", name: "wiper", label: "Wiper flat", hint: "Its length, if there is one" },
  { group: "machine", name: "maxSpeed", label: "Spindle's speed limit", hint: "Such as 6000 rev/min" },
  { group: "machine", name: "maxFeedSpeed", label: "Feed speed limit", hint: "Such as 5000 mm/min" },
];

const pass: readonly SetupField[] = [
  { group: "pass", name: "length", label: "Length of a pass", hint: "Such as 180 mm" },
  { group: "pass", name: "width", label: "Width cut", hint: "Such as 60 mm" },
  { group: "pass", name: "approach", label: "Approach", hint: "Such as 40 mm; empty: by the cutter" },
  { group: "pass", name: "overtravel", label: "Overtravel", hint: "Such as 5 mm" },
];

const budget: readonly SetupField[] = [
  { group: "budget", name: "minutes", label: "Minutes at hand", hint: "Such as 120" },
  {
    group: "budget",
    name: "minutesBetween",
    label: "Minutes between passes",
    hint: "Cleaning, reading, setting",
  },
  { group: "budget", name: "stock", label: "Stock at hand", hint: "Such as 3 mm, for all passes" },
  { group: "budget", name: "edges", label: "Edges at hand", hint: "Such as 2" },
];

const gauge: readonly SetupField[] = [
  { group: "measurement", name: "cutoff", label: "Gauge cut-off", hint: "Such as 0.8 mm" },
  { group: "measurement", name: "tipRadius", label: "Tip radius", hint: "Such as 2 µm" },
];

function set(form: Draft, group: Group, name: string, value: string): void {
  change({ [group]: { ...form[group], [name]: value } });
}

function SetupFields({ form, fields }: { readonly form: Draft; readonly fields: readonly SetupField[] }) {
  return (
    <div class="grid">
      {fields.map(({ group, name, label, hint }) => (
        <TextField
          key={`${group}.${name}`}
          id={`${group}.${name}`}
          label={label}
          hint={hint}
          value={form[group][name] ?? ""}
          onValue={(value) => set(form, group, name, value)}
          refusal={refusals.value.get(`${group}.${name}`)}
        />
      ))}
    </div>
  );
}

function HeldStill({ form }: { readonly form: Draft }) {
  const put = (index: number, part: Partial<Draft["held"][number]>) =>
    change({ held: form.held.map((old, place) => (place === index ? { ...old, ...part } : old)) });
  return (
    <section class="view" aria-labelledby="part-held">
      <h2 id="part-held">What stays still?</h2>
      <p class="soft measure">
        Depth of cut, coolant, insert, set-up: what another shop must hold alike to get your figures.
      </p>
      {form.held.map((held, index) => (
        <div class="row end" key={index}>
          <TextField
            id={`held.${index}.name`}
            label="What"
            value={held.name}
            onValue={(name) => put(index, { name })}
            refusal={refusals.value.get(`held.${index}.name`)}
          />
          <TextField
            id={`held.${index}.value`}
            class="grow"
            label="At"
            value={held.value}
            onValue={(value) => put(index, { value })}
            refusal={refusals.value.get(`held.${index}.value`)}
          />
          <button type="button" class="plain" onClick={() => change({ held: without(form.held, index) })}>
            Remove {held.name === "" ? `line ${index + 1}` : held.name}
          </button>
        </div>
      ))}
      <div>
        <button type="button" onClick={() => change({ held: [...form.held, { name: "", value: "" }] })}>
          Add a line (depth, coolant, insert …)
        </button>
      </div>
    </section>
  );
}

/** Cutter, machine, pass, gauge and what is at hand: what a plan is checked against. */
export function SetupPart() {
  const form = draft.value;
  if (form === null) return null;
  return (
    <>
      <HeldStill form={form} />
      <section class="view" aria-labelledby="part-limits">
        <h2 id="part-limits">Cutter, machine and pass</h2>
        <p class="soft measure">
          A plan that passes a limit stated here is refused, with the run that does it.
        </p>
        <SetupFields form={form} fields={limits} />
        <SetupFields form={form} fields={pass} />
        <div class="row">
          <ChoiceField
            id="pass.kind"
            label="The pass is"
            value={form.pass["kind"] ?? ""}
            choices={[
              ["", "Not stated"],
              ["milling", "Milled"],
              ["turning", "Turned"],
            ]}
            onValue={(kind) => set(form, "pass", "kind", kind)}
          />
          <ChoiceField
            id="measurement.across"
            label="Trace runs"
            value={form.measurement["across"] ?? ""}
            choices={[
              ["", "Not stated"],
              ["lay", "Across the lay"],
              ["along", "Along the lay"],
            ]}
            onValue={(across) => set(form, "measurement", "across", across)}
          />
        </div>
        <SetupFields form={form} fields={gauge} />
      </section>
      <section class="view" aria-labelledby="part-budget">
        <h2 id="part-budget">What is at hand?</h2>
        <SetupFields form={form} fields={budget} />
      </section>
    </>
  );
}
