import { useSignal } from "@preact/signals";
import type { RemarkView } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { addressOf } from "../place.ts";

function AddRuns({
  trial,
  remark,
  onAdded,
}: {
  readonly trial: string;
  readonly remark: RemarkView;
  readonly onAdded: () => void;
}) {
  const failure = useSignal("");
  const added = useSignal(false);
  const count = remark.addRuns.length;
  const words = count === 1 ? "this run" : `these ${count} runs`;
  const add = async () => {
    try {
      await tell(`/api/trials/${encodeURIComponent(trial)}/runs`, { runs: remark.addRuns });
      added.value = true;
      failure.value = "";
      announce(`${count} ${count === 1 ? "run" : "runs"} added to the plan.`);
      onAdded();
    } catch (error) {
      failure.value = messageOf(error);
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
      {added.value ? (
        <p>
          Added. <a href={addressOf("trials", trial, "run-sheet")}>Cut them on the run sheet</a>
        </p>
      ) : (
        <button type="button" class="no-print" onClick={() => void add()}>
          Add {words} to the plan
        </button>
      )}
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
  readonly onAdded: () => void;
}

/** What the data can't say or what looks wrong, each with its evidence, its mend, and the runs that would mend it. */
export function RemarkList({ trial, remarks, onAdded }: RemarkListProps) {
  if (remarks.length === 0) {
    return <p>Nothing was noticed that these data can't tell apart, and nothing that looks wrong.</p>;
  }
  return (
    <div class="entries">
      <ul class="entry remarks">
        {remarks.map((remark) => (
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
                <AddRuns trial={trial} remark={remark} onAdded={onAdded} />
              )}
            </div>
          </li>
        ))}
      </ul>
    </div>
  );
}
