import { ChoiceField } from "../fields/choice-field.tsx";
import { change, draft, form, refusals } from "./draft-state.ts";
import { LayoutOption } from "./layout-option.tsx";
import { fieldsOf, firstOptions, onlyWith, optionWords, orderOptions } from "./option-words.ts";

/** Kinds whose runs are typed elsewhere: they are brought in as a table, not made by this form. */
const notByForm = new Set(["given"]);

function kindName(kind: string): string {
  const words = kind.replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function Folded({ summary, names }: { readonly summary: string; readonly names: readonly string[] }) {
  if (names.length === 0) return null;
  // What holds a slip must not stay folded away.
  const hasSlip = names.some((name) => refusals.value.has(`layout.${name}`));
  return (
    <details open={hasSlip || undefined}>
      <summary>{summary}</summary>
      <div class="grid">
        {names.map((name) => (
          <LayoutOption key={name} name={name} />
        ))}
      </div>
    </details>
  );
}

/** Which passes, how often and in which order: every choice by hand. */
export function LayoutPart() {
  const layout = draft.value?.layout;
  const kinds = (form.value?.kinds ?? []).filter(({ kind }) => !notByForm.has(kind));
  if (!layout) return null;
  const chosen = kinds.find(({ kind }) => kind === layout.kind);
  const hasHard = (draft.value?.factors ?? []).some((factor) => factor.change === "hard");
  const isAsked = (name: string) =>
    onlyWith[name] === undefined ||
    (onlyWith[name] === "hard" ? hasHard : layout.options["order"] === onlyWith[name]);
  const options = fieldsOf(chosen?.options ?? []).filter(isAsked);
  const first = firstOptions.filter((name) => options.includes(name));
  const about = orderOptions.filter((name) => options.includes(name));
  const inFile = options.filter((name) => optionWords[name] === undefined);
  const others = options.filter(
    (name) => !first.includes(name) && !about.includes(name) && optionWords[name] !== undefined,
  );
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
          <LayoutOption key={name} name={name} />
        ))}
      </div>
      <Folded summary="More about this layout" names={others} />
      <Folded summary="More about the order: edges, shifts, warm-up" names={about} />
      {inFile.length === 0 ? null : (
        <p class="soft small">
          This layout also takes {inFile.join(", ")}: written in trial.json, which can be laid out on the Plan
          sheet.
        </p>
      )}
    </section>
  );
}
