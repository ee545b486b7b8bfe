import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { change, draft, form, refusals } from "./draft-state.ts";
import { firstOptions, optionWords } from "./option-words.ts";

/** Kinds whose runs are typed elsewhere: they are brought in as a table, not made by this form. */
const notByForm = new Set(["given"]);

function kindName(kind: string): string {
  const words = kind.replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function Option({ name }: { readonly name: string }) {
  const layout = draft.value?.layout;
  if (!layout) return null;
  const words = optionWords[name] ?? { label: name, hint: "" };
  const value = layout.options[name] ?? "";
  const set = (given: string) =>
    change({ layout: { ...layout, options: { ...layout.options, [name]: given } } });
  const common = { id: `layout.${name}`, label: words.label, hint: words.hint, value, onValue: set };
  const refusal = refusals.value.get(`layout.${name}`);
  return words.choices ? (
    <ChoiceField {...common} choices={words.choices} refusal={refusal} />
  ) : (
    <TextField {...common} refusal={refusal} />
  );
}

/** Which passes, how often and in which order. */
export function LayoutPart() {
  const layout = draft.value?.layout;
  const kinds = (form.value?.kinds ?? []).filter(({ kind }) => !notByForm.has(kind));
  if (!layout) return null;
  const chosen = kinds.find(({ kind }) => kind === layout.kind);
  const options = chosen?.options ?? [];
  const first = firstOptions.filter((name) => options.includes(name));
  const inFile = options.filter((name) => optionWords[name] === undefined);
  const others = options.filter((name) => !first.includes(name) && optionWords[name] !== undefined);
  return (
    <section class="view" aria-labelledby="part-layout">
      <h2 id="part-layout">Which passes, in which order?</h2>
      <div class="row">
        <ChoiceField
          id="layout.kind"
          label="Layout"
          class="grow"
          value={layout.kind}
          choices={kinds.map(({ kind }) => [kind, kindName(kind)] as const)}
          onValue={(kind) => change({ layout: { ...layout, kind } })}
          hint={chosen?.summary}
          refusal={refusals.value.get("layout")}
        />
      </div>
      <div class="grid">
        {first.map((name) => (
          <Option key={name} name={name} />
        ))}
      </div>
      {others.length === 0 ? null : (
        <details>
          <summary>More about this layout</summary>
          <div class="grid">
            {others.map((name) => (
              <Option key={name} name={name} />
            ))}
          </div>
        </details>
      )}
      {inFile.length === 0 ? null : (
        <p class="soft small">
          This layout also takes {inFile.join(", ")}: written in trial.json, which can be laid out on the Plan
          sheet.
        </p>
      )}
    </section>
  );
}
