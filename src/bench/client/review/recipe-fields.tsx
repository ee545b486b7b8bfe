import type { RecipeProblem } from "../../recipe-api.ts";
import type { RecipeForm, RecipeResponse } from "../../recipe-form.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { changeQuery, place } from "../place.ts";

const whom = [
  ["share", "A share of all parts"],
  ["mean", "The mean of all parts"],
  ["next", "Each of the next parts"],
] as const;

const sides = [
  ["at-most", "At most"],
  ["at-least", "At least"],
] as const;

function set(name: string, value: string): void {
  changeQuery({ [name]: value === "" ? null : value });
}

function typed(name: string): string {
  return place.value.query.get(name) ?? "";
}

interface LineProps {
  /** As it stands in the address. */
  readonly name: string;
  readonly id: string;
  readonly label: string;
  readonly hint: string;
  readonly problems: readonly RecipeProblem[];
}

function Line({ name, id, label, hint, problems }: LineProps) {
  return (
    <TextField
      id={id}
      class="short"
      label={label}
      value={typed(name)}
      onValue={(value) => set(name, value)}
      hint={hint}
      refusal={problems.find(({ field }) => field === name)?.message ?? ""}
    />
  );
}

interface LimitFieldsProps {
  readonly response: RecipeResponse;
  readonly place: number;
  readonly problems: readonly RecipeProblem[];
}

/** The limit on one response, and of whom it must hold. */
function LimitFields({ response, place: at, problems }: LimitFieldsProps) {
  const { name, unit, stated, asksSide } = response;
  const chosen = whom.find(([value]) => value === typed(`for.${name}`))?.[0] ?? "share";
  return (
    <fieldset class="item">
      <legend>{name}</legend>
      <div class="row">
        {asksSide ? (
          <ChoiceField
            id={`side-${at}`}
            label="Side"
            value={typed(`side.${name}`) === "at-least" ? "at-least" : "at-most"}
            choices={sides}
            onValue={(value) => set(`side.${name}`, value)}
          />
        ) : null}
        <Line
          name={`limit.${name}`}
          id={`limit-${at}`}
          label={`Limit on ${name}`}
          hint={stated === "" ? `In ${unit}; none unless stated` : `The trial's, ${stated}, unless stated`}
          problems={problems}
        />
        <ChoiceField
          id={`for-${at}`}
          label="Must hold for"
          value={chosen}
          choices={whom}
          onValue={(value) => set(`for.${name}`, value === "share" ? "" : value)}
        />
        {chosen === "share" ? (
          <Line
            name={`share.${name}`}
            id={`share-${at}`}
            label="Share of parts, %"
            hint="95 unless stated"
            problems={problems}
          />
        ) : null}
        {chosen === "next" ? (
          <Line
            name={`parts.${name}`}
            id={`parts-${at}`}
            label="How many parts"
            hint="1 unless stated"
            problems={problems}
          />
        ) : null}
      </div>
    </fieldset>
  );
}

/** Settings that are to stand still while the others are searched. */
function HeldFields({ form, problems }: RecipeFieldsProps) {
  const held = [...place.value.query.keys()].some((name) => name.startsWith("hold."));
  return (
    <details open={held}>
      <summary>Hold settings still</summary>
      <div class="row">
        {form.categories.map(({ name, levels }, at) => (
          <ChoiceField
            key={name}
            id={`hold-level-${at}`}
            label={name}
            value={typed(`hold.${name}`)}
            choices={[["", "The best of them"], ...levels.map((level) => [level, level] as const)]}
            onValue={(value) => set(`hold.${name}`, value)}
          />
        ))}
        {form.quantities.map(({ name, unit }, at) => (
          <Line
            key={name}
            name={`hold.${name}`}
            id={`hold-${at}`}
            label={name}
            hint={`In ${unit}; searched unless stated`}
            problems={problems}
          />
        ))}
      </div>
    </details>
  );
}

interface RecipeFieldsProps {
  readonly form: RecipeForm;
  readonly problems: readonly RecipeProblem[];
}

/** What is asked of a recipe. Each field is kept in the address as it was typed. */
export function RecipeFields({ form, problems }: RecipeFieldsProps) {
  const push = form.pushes.find(([value]) => value === typed("push"))?.[0] ?? form.pushes[0]?.[0] ?? "";
  return (
    <div class="view no-print">
      {form.responses.map((response, at) => (
        <LimitFields key={response.name} response={response} place={at} problems={problems} />
      ))}
      <div class="row">
        <Line
          name="assurance"
          id="assurance"
          label="Assurance, %"
          hint="Of each limit; 95 unless stated"
          problems={problems}
        />
        {form.pushes.length < 2 ? null : (
          <ChoiceField
            id="push"
            label="Look for"
            value={push}
            choices={form.pushes}
            onValue={(value) => set("push", value === form.pushes[0]?.[0] ? "" : value)}
          />
        )}
      </div>
      {form.pushNote === "" ? null : <p class="soft small measure">{form.pushNote}</p>}
      <HeldFields form={form} problems={problems} />
    </div>
  );
}
