import { useSignal } from "@preact/signals";
import type { FactorView, SheetRunView } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { loadSheet, sheet } from "./sheet-state.ts";

interface AsCutFormProps {
  readonly run: SheetRunView;
  readonly factors: readonly FactorView[];
  readonly onDone: () => void;
}

/** Says that a run was cut otherwise than planned. The plan stays as it was; the analysis uses what was cut. */
export function AsCutForm({ run, factors, onDone }: AsCutFormProps) {
  const factor = useSignal(factors[0]?.name ?? "");
  const value = useSignal("");
  const reason = useSignal("");
  const failure = useSignal("");
  const chosen = factors.find(({ name }) => name === factor.value);
  const id = `as-cut-${run.run}`;

  const submit = async (event: Event) => {
    event.preventDefault();
    const trial = sheet.value?.head.name;
    if (trial === undefined) return;
    try {
      const body = {
        run: run.run,
        factor: factor.value,
        value: value.value.trim(),
        reason: reason.value.trim(),
      };
      await tell(`/api/trials/${encodeURIComponent(trial)}/as-cut`, body);
      announce(`Run ${run.run}: noted as cut at ${factor.value} ${value.value}.`);
      onDone();
      await loadSheet(trial);
    } catch (error) {
      failure.value = messageOf(error);
    }
  };

  return (
    <form class="as-cut-form" onSubmit={(event) => void submit(event)} noValidate>
      <div class="row">
        <ChoiceField
          id={`${id}-factor`}
          label="Factor"
          value={factor.value}
          choices={factors.map(({ name }) => [name, name] as const)}
          onValue={(name) => {
            factor.value = name;
            value.value = "";
          }}
        />
        {chosen?.kind === "category" ? (
          <ChoiceField
            id={`${id}-value`}
            label="Was cut at"
            value={value.value}
            choices={["", ...chosen.levels].map((level) => [level, level === "" ? "Choose" : level] as const)}
            onValue={(level) => (value.value = level)}
          />
        ) : (
          <TextField
            id={`${id}-value`}
            label="Was cut at"
            value={value.value}
            onValue={(text) => (value.value = text)}
            hint={chosen?.unit === undefined ? "" : `In ${chosen.unit}, unless a unit is typed`}
          />
        )}
        <TextField
          id={`${id}-reason`}
          class="grow"
          label="Why"
          value={reason.value}
          onValue={(text) => (reason.value = text)}
          hint="Such as: override left at 80 %"
        />
      </div>
      {failure.value === "" ? null : (
        <p class="refusal message" role="alert">
          {failure.value}
        </p>
      )}
      <div class="row">
        <button type="submit">Note it</button>
        <button type="button" class="plain" onClick={onDone}>
          Cut as planned
        </button>
      </div>
    </form>
  );
}
