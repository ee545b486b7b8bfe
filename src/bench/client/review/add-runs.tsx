import { useSignal } from "@preact/signals";
import type { AddedRunsView } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextTable } from "../sheet/text-table.tsx";

const blockChoices = [
  ["own", "Later: another day, edge or set-up"],
  ["last", "Now: the last block goes on"],
] as const;

interface AddRunsProps {
  /** Unique on the page. */
  readonly id: string;
  readonly trial: string;
  readonly runs: AddedRunsView;
  readonly onAdded: (count: number) => void;
}

/** Runs that would help, and the button that adds them to the plan. */
export function AddRuns({ id, trial, runs, onAdded }: AddRunsProps) {
  const failure = useSignal("");
  const busy = useSignal(false);
  const block = useSignal<"own" | "last">("own");
  const count = runs.addRuns.length;
  const words = count === 1 ? "this run" : `these ${count} runs`;
  const add = async () => {
    busy.value = true;
    try {
      await tell(`/api/trials/${encodeURIComponent(trial)}/runs`, {
        runs: runs.addRuns,
        block: block.value,
      });
      failure.value = "";
      announce(`${count} ${count === 1 ? "run" : "runs"} added to the plan.`);
      onAdded(count);
    } catch (error) {
      failure.value = messageOf(error);
    } finally {
      busy.value = false;
    }
  };
  return (
    <div class="add-runs">
      <TextTable columns={runs.addColumns} rows={runs.addRows} />
      {failure.value === "" ? null : (
        <p class="refusal message" role="alert">
          {failure.value}
        </p>
      )}
      <div class="row end no-print">
        <ChoiceField
          id={`block-${id}`}
          label="To be cut"
          value={block.value}
          choices={blockChoices}
          onValue={(value) => (block.value = value)}
        />
        <button type="button" disabled={busy.value} onClick={() => void add()}>
          Add {words} to the plan
        </button>
      </div>
    </div>
  );
}
