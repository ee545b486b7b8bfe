import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { change, draft, refusals } from "./draft-state.ts";
import { optionWords } from "./option-words.ts";

/** Stands in a list of sets for effects that are named one by one. */
const listed = "listed";

function put(name: string, given: string): void {
  const layout = draft.value?.layout;
  if (layout) change({ layout: { ...layout, options: { ...layout.options, [name]: given } } });
}

/** Effects: one of the named sets, or a list that opens below. */
function EffectsOption({ name }: { readonly name: string }) {
  const words = optionWords[name];
  const value = draft.value?.layout.options[name] ?? "";
  const choices = [...(words?.choices ?? []), [listed, "These effects …"] as const];
  const isListed = !choices.some(([set]) => set === value);
  const refusal = refusals.value.get(`layout.${name}`);
  const first = draft.value?.factors[0]?.name ?? "";
  const choose = (chosen: string) => {
    put(name, chosen === listed ? `${first} ` : chosen);
    if (chosen === listed)
      requestAnimationFrame(() => document.getElementById(`layout.${name}.list`)?.focus());
  };
  return (
    <>
      <ChoiceField
        id={`layout.${name}`}
        label={words?.label ?? name}
        hint={words?.hint}
        value={isListed ? listed : value}
        choices={choices}
        onValue={choose}
        refusal={isListed ? undefined : refusal}
      />
      {isListed ? (
        <TextField
          id={`layout.${name}.list`}
          class="grow"
          label={`${words?.label ?? name}: these effects`}
          hint="With commas between: feed, feed × speed, feed²"
          value={value}
          onValue={(text) => put(name, text === "" ? " " : text)}
          refusal={refusal}
        />
      ) : null}
    </>
  );
}

/** One option of the layout, asked for in the shop's words. */
export function LayoutOption({ name }: { readonly name: string }) {
  const layout = draft.value?.layout;
  if (!layout) return null;
  const words = optionWords[name] ?? { label: name, hint: "" };
  if (words.effects !== undefined) return <EffectsOption name={name} />;
  const common = {
    id: `layout.${name}`,
    label: words.label,
    hint: words.hint,
    value: layout.options[name] ?? "",
    onValue: (given: string) => put(name, given),
    refusal: refusals.value.get(`layout.${name}`),
  };
  if (words.choices) return <ChoiceField {...common} choices={words.choices} />;
  return words.lines === undefined ? (
    <TextField {...common} />
  ) : (
    <TextField {...common} class="whole" lines={words.lines} />
  );
}
