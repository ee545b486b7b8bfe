import { useSignal } from "@preact/signals";
import type { RemarkView } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { Entries } from "../sheet/made.tsx";

const blockChoices = [
  ["own", "Later: another day, edge or set-up"],
  ["last", "Now: the last block goes on"],
] as const;

interface AddRunsProps {
  /** Of the remark among the others. */
  readonly place: number;
  readonly trial: string;
  readonly remark: RemarkView;
  readonly onAdded: (count: number) => void;
}

function AddRuns({ place, trial, remark, onAdded }: AddRunsProps) {
  const failure = useSignal("");
  const busy = useSignal(false);
  const block = useSignal<"own" | "last">("own");
  const count = remark.addRuns.length;
  const words = count === 1 ? "this run" : `these ${count} runs`;
  const add = async () => {
    busy.value = true;
    try {
      await tell(`/api/trials/${encodeURIComponent(trial)}/runs`, {
        runs: remark.addRuns,
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
      <table>
        <thead>
          <tr>
            {remark.addColumns.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {remark.addRows.map((row, index) => (
            <tr key={index}>
              {row.map((text, column) => (
                <td key={column}>{text}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {failure.value === "" ? null : (
        <p class="refusal message" role="alert">
          {failure.value}
        </p>
      )}
      <div class="row end no-print">
        <ChoiceField
          id={`block-${place}`}
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

function runsText(runs: readonly number[]): string {
  if (runs.length === 0) return "";
  if (runs.length > 12) return `Runs ${runs.slice(0, 12).join(", ")} and ${runs.length - 12} more`;
  return `${runs.length === 1 ? "Run" : "Runs"} ${runs.join(", ")}`;
}

interface RemarkListProps {
  readonly trial: string;
  readonly remarks: readonly RemarkView[];
  readonly onAdded: (count: number) => void;
}

/** What the data can't say or what looks wrong, each with its evidence, its mend, and the runs that would mend it. */
export function RemarkList({ trial, remarks, onAdded }: RemarkListProps) {
  if (remarks.length === 0) {
    return <p>Nothing was noticed that these data can't tell apart, and nothing that looks wrong.</p>;
  }
  return (
    <Entries>
      <ul class="entry remarks">
        {remarks.map((remark, place) => (
          <li key={remark.title} class={`remark ${remark.weight}`}>
            <p class="tag">{remark.weight === "caution" ? "Caution" : "Note"}</p>
            <div>
              <p class="what">{remark.title}</p>
              <p class="evidence">{remark.evidence}</p>
              {remark.mend === "" ? null : (
                <p class="mend">
                  <span class="lead-in">Mend:</span> {remark.mend}
                </p>
              )}
              <p class="runs">{runsText(remark.runs)}</p>
              {remark.addRuns.length === 0 ? null : (
                <AddRuns place={place} trial={trial} remark={remark} onAdded={onAdded} />
              )}
            </div>
          </li>
        ))}
      </ul>
    </Entries>
  );
}
