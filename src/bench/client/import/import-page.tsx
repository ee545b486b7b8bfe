import { effect, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { ImportOutcome, TrialHead } from "../../api.ts";
import { announce } from "../announce.tsx";
import { ask, messageOf, tell } from "../ask.ts";
import { addressOf, go } from "../place.ts";
import { Refusal } from "../sheet/notice.tsx";
import { TrialSheetFrame } from "../trials/trial-sheet.tsx";
import { ColumnsPart, TakenPart, WhyNotYet } from "./columns-part.tsx";
import { failure, hasTable, isReady, lookAt, noTable, preview, table } from "./import-state.ts";
import { MattersPart } from "./matters-part.tsx";
import { SourcePart } from "./source-part.tsx";

const head = signal<TrialHead | null>(null);
const busy = signal(false);

const pauseMs = 250;

function addressFor(trial: string): string {
  return `/api/trials/${encodeURIComponent(trial)}/import`;
}

async function takeIn(trial: string): Promise<void> {
  busy.value = true;
  try {
    const outcome = await tell<ImportOutcome>(addressFor(trial), table.value);
    if (outcome.kind === "asked") {
      preview.value = outcome.answer;
      announce("There are questions about the table.");
      return;
    }
    announce(`${outcome.readings} readings taken in.`);
    table.value = noTable;
    preview.value = null;
    go(addressOf("trials", trial, "run-sheet"));
  } catch (error) {
    failure.value = messageOf(error);
  } finally {
    busy.value = false;
  }
}

/** Readings of a trial from a table that came from elsewhere: looked at first, then taken in. */
export function ImportPage({ trial }: { readonly trial: string }) {
  useEffect(() => {
    table.value = noTable;
    preview.value = null;
    failure.value = "";
    ask<{ head: TrialHead }>(`/api/trials/${encodeURIComponent(trial)}/run-sheet`).then(
      (answer) => (head.value = answer.head),
      (error: unknown) => (failure.value = messageOf(error)),
    );
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = effect(() => {
      const body = table.value;
      clearTimeout(timer);
      if (hasTable.value)
        timer = setTimeout(() => void lookAt(`${addressFor(trial)}/preview`, body), pauseMs);
    });
    return () => {
      stop();
      clearTimeout(timer);
    };
  }, [trial]);
  return (
    <TrialSheetFrame
      trial={trial}
      sheet="import"
      head={head.value}
      heading="Import"
      lead="Readings from a gauge's file or a spreadsheet. What would be taken in shows first; nothing is written before you say so."
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      <SourcePart hint="With headers such as: run, spot, Ra [µm]. Comma or semicolon, decimal point or comma." />
      <ColumnsPart />
      <MattersPart />
      <TakenPart />
      <WhyNotYet />
      {hasTable.value ? (
        <div>
          <button
            type="button"
            class="first"
            disabled={!isReady.value || busy.value}
            onClick={() => void takeIn(trial)}
          >
            Take in {preview.value === null ? "the table" : `${preview.value.readings} readings`}
          </button>
        </div>
      ) : null}
    </TrialSheetFrame>
  );
}
