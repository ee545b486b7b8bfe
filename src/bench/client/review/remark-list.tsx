import type { RemarkView } from "../../api.ts";
import { Entries } from "../sheet/made.tsx";
import { AddRuns } from "./add-runs.tsx";
import { Method } from "./told.tsx";

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
              <Method texts={[remark.method]} />
              {remark.addRuns.length === 0 ? null : (
                <AddRuns id={`remark-${place}`} trial={trial} runs={remark} onAdded={onAdded} />
              )}
            </div>
          </li>
        ))}
      </ul>
    </Entries>
  );
}
