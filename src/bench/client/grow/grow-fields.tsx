import { signal } from "@preact/signals";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";

/** What is typed on the page, as the bench takes it. */
export const form = signal<Readonly<Record<string, string>>>({ by: "fold" });

export function setField(name: string, value: string): void {
  form.value = { ...form.value, [name]: value };
}

const ways = [
  ["fold", "Fold: tell apart effects that hide in each other"],
  ["axial", "Axial runs: see curves"],
  ["replicate", "Repeat only what decides"],
  ["separate", "Separate explanations with the fewest runs"],
  ["proof", "Prove the recipe"],
] as const;

const distances = [
  ["block-orthogonal", "As far as keeps the blocks apart"],
  ["rotatable", "Equally precise all round"],
  ["face", "At low and high"],
] as const;

const ranges = [
  ["corners", "May be passed"],
  ["limits", "Nothing is cut beyond"],
] as const;

const blocks = [
  ["new", "Later: another day, edge or set-up"],
  ["last", "Now: the last block goes on"],
] as const;

const rules = [
  ["mean", "The mean of the proof parts"],
  ["share", "A share of parts, from their size"],
  ["parts", "A share of parts, by counting"],
] as const;

interface LineProps {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly class?: string;
}

function Line({ name, label, hint, class: extra }: LineProps) {
  return (
    <TextField
      id={name}
      label={label}
      value={form.value[name] ?? ""}
      onValue={(value) => setField(name, value)}
      {...(hint === undefined ? {} : { hint })}
      {...(extra === undefined ? {} : { class: extra })}
    />
  );
}

function Choice<Value extends string>({
  name,
  label,
  choices,
}: {
  readonly name: string;
  readonly label: string;
  readonly choices: readonly (readonly [Value, string])[];
}) {
  const value = choices.find(([choice]) => choice === form.value[name])?.[0] ?? choices[0]?.[0];
  if (value === undefined) return null;
  return (
    <ChoiceField
      id={name}
      label={label}
      value={value}
      choices={choices}
      onValue={(chosen) => setField(name, chosen)}
    />
  );
}

function OwnFields({ factors }: { readonly factors: readonly string[] }) {
  switch (form.value["by"]) {
    case "axial":
      return (
        <>
          <Choice name="axial" label="How far out" choices={distances} />
          <Choice name="range" label="Low and high" choices={ranges} />
          <Line name="centrePoints" class="short" label="Centre runs" hint="3 unless stated" />
        </>
      );
    case "replicate":
      return (
        <>
          <Line
            name="effect"
            label="Which effect decides"
            hint={`Such as ${factors.slice(0, 2).join(" × ")}; left empty, the recipe's setting`}
          />
          <Line name="runs" class="short" label="Runs" hint="4 unless stated" />
        </>
      );
    case "separate":
      return (
        <Line
          name="between"
          class="grow"
          label="Explanations to tell apart"
          hint={`Effects with = between: ${factors.slice(0, 2).join(" = ")}`}
        />
      );
    case "proof":
      return (
        <>
          <Choice name="rule" label="What decides" choices={rules} />
          <Line name="failGood" class="short" label="Good recipe fails, %" hint="5 unless stated" />
          <Line name="passBad" class="short" label="Bad recipe passes, %" hint="5 unless stated" />
        </>
      );
    default:
      return (
        <Line name="factors" label="Factors to turn over" hint={`All unless named: ${factors.join(", ")}`} />
      );
  }
}

/** The fields of the way that is chosen, and those of every way. */
export function GrowFields({ factors }: { readonly factors: readonly string[] }) {
  return (
    <>
      <div class="row">
        <Choice name="by" label="What should the runs do?" choices={ways} />
        <Choice name="block" label="To be cut" choices={blocks} />
      </div>
      <div class="row">
        <OwnFields factors={factors} />
      </div>
      <details>
        <summary>Order, scatter and common runs</summary>
        <div class="row">
          <Line name="sigma" class="short" label="Scatter σ" hint="From the readings unless stated" />
          <Line
            name="tie"
            class="short"
            label="Common runs"
            hint="Cut again to tie the blocks; none unless stated"
          />
          <Line name="seed" class="short" label="Seed" hint="1 unless stated" />
        </div>
      </details>
    </>
  );
}
