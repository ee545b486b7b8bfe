import { useEffect } from "preact/hooks";
import type { RunSheetAnswer } from "../../api.ts";
import { useLive } from "../live.ts";
import { reasonToStay } from "../place.ts";
import { Cautions, Refusal, Waiting } from "../sheet/notice.tsx";
import { TrialSheetFrame } from "../trials/trial-sheet.tsx";
import { hasOneColumn, RunRow } from "./run-row.tsx";
import { Homeless, PlacesForm, SheetBar } from "./sheet-bar.tsx";
import { entering } from "./entering.ts";
import { failure, loadSheet, sheet } from "./sheet-state.ts";

function whyStay(): string {
  const open = entering.value.size;
  return open === 0 ? "" : `${open} ${open === 1 ? "reading is" : "readings are"} typed and not saved.`;
}

function heading(now: RunSheetAnswer): string {
  return now.head.runsRead === now.head.runs
    ? "Every run has readings. What they show is on the Review sheet."
    : "";
}

function readingsHead(now: RunSheetAnswer): string {
  const [response] = now.responses;
  if (response === undefined || !hasOneColumn(now)) return "Readings";
  return `${response.name} [${response.unit}]${response.limit === "" ? "" : `, ${response.limit}`}`;
}

function Rows({ now }: { readonly now: RunSheetAnswer }) {
  const next = now.runs.find((run) => run.readings.every((reading) => reading.void !== ""))?.run;
  const hasBlocks = new Set(now.runs.map(({ block }) => block)).size > 1;
  return (
    <table class="run-sheet">
      <caption class="heard-only">
        Runs in cutting order. Enter saves a reading and moves to the next field.
      </caption>
      <thead>
        <tr class="only-print" aria-hidden="true">
          <th colSpan={now.factors.length + now.conditions.length + 3}>
            {now.head.title} · experiments/{now.head.name}
            {now.head.dataKind === "invented" ? " · invented data" : ""}
          </th>
        </tr>
        <tr>
          <th scope="col">Run</th>
          {now.factors.map(({ name }) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
          {now.conditions.map((name) => (
            <th key={name} scope="col" class="soft">
              {name}
            </th>
          ))}
          <th scope="col">{readingsHead(now)}</th>
          <th scope="col" class="only-print hand-note">
            Cut otherwise, note
          </th>
          <th scope="col" class="no-print">
            <span class="heard-only">More</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {now.runs.map((run, index) => (
          <RunRow
            key={run.run}
            run={run}
            isNext={run.run === next}
            startsBlock={hasBlocks && run.block !== now.runs[index - 1]?.block}
          />
        ))}
      </tbody>
    </table>
  );
}

/** What is written by hand at the head of a printed sheet. */
function ByHand() {
  return (
    <div class="only-print by-hand" aria-hidden="true">
      <span>Cut by</span>
      <span>Date</span>
      <span>Machine</span>
      <span>Gauge</span>
    </div>
  );
}

function Told({ now }: { readonly now: RunSheetAnswer }) {
  const facts = [...now.held.map(([name, value]) => [name, `${value}, held`] as const), ...now.measurement];
  return (
    <>
      <Cautions cautions={now.cautions} />
      <div class="row told">
        {facts.length === 0 ? null : (
          <dl class="facts">
            {facts.map(([name, value]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
        )}
        {now.orderRules.length === 0 && now.takes === "" ? null : (
          <ul class="measure small">
            {[...now.orderRules, now.takes]
              .filter((rule) => rule !== "")
              .map((rule) => (
                <li key={rule}>{rule}</li>
              ))}
          </ul>
        )}
      </div>
    </>
  );
}

/** The runs in cutting order, to fill in beside the machine or to print. */
export function RunSheetPage({ trial }: { readonly trial: string }) {
  useEffect(() => {
    void loadSheet(trial);
    reasonToStay.value = whyStay;
    return () => {
      reasonToStay.value = () => "";
    };
  }, [trial]);
  useLive(`/api/live/changes?trial=${encodeURIComponent(trial)}`, { changed: () => void loadSheet(trial) });
  const now = sheet.value;
  return (
    <TrialSheetFrame
      trial={trial}
      sheet="run-sheet"
      head={now?.head ?? null}
      heading="Run sheet"
      lead={
        <>
          Cut in this order.{" "}
          <span class="no-print">
            Type each reading and press Enter; a unit may be typed with it. Saved means: on the disk.
          </span>
        </>
      }
      beside={
        <button type="button" class="no-print" onClick={() => print()}>
          Print
        </button>
      }
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {now === null ? (
        failure.value === "" ? (
          <Waiting what="The run sheet is on its way." />
        ) : null
      ) : now.runs.length === 0 ? (
        <p>The trial has no runs yet.</p>
      ) : (
        <>
          <SheetBar />
          <Homeless />
          <ByHand />
          {heading(now) === "" ? null : <p class="no-print">{heading(now)}</p>}
          <Told now={now} />
          <Rows now={now} />
          <PlacesForm />
        </>
      )}
    </TrialSheetFrame>
  );
}
