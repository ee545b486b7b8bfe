import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Session, TrialListing, TrialsAnswer } from "../../api.ts";
import { ask, messageOf } from "../ask.ts";
import { useLive } from "../live.ts";
import { addressOf } from "../place.ts";
import { Refusal, Waiting } from "../sheet/notice.tsx";
import { Sheet } from "../sheet/sheet.tsx";
import { Stamp } from "./trial-sheet.tsx";

const trials = signal<readonly TrialListing[] | null>(null);
const session = signal<Session | null>(null);
const failure = signal("");

async function load(): Promise<void> {
  try {
    const [list, about] = await Promise.all([ask<TrialsAnswer>("/api/trials"), ask<Session>("/api/session")]);
    trials.value = list.trials;
    session.value = about;
    failure.value = "";
  } catch (error) {
    failure.value = messageOf(error);
  }
}

function Progress({ read, runs }: { readonly read: number; readonly runs: number }) {
  if (runs === 0) return <>not laid out</>;
  return (
    <>
      {read} of {runs}
      <span class="heard-only"> runs read</span>
      <progress max={runs} value={read} aria-hidden="true" />
    </>
  );
}

function Line({ trial, item }: { readonly trial: TrialListing; readonly item: number }) {
  if (trial.problem !== null) {
    return (
      <tr>
        <td class="number soft">{item}</td>
        <th scope="row">{trial.name}</th>
        <td colSpan={2}>
          <div class="amber-box">
            <strong>Can't be opened.</strong> <span class="message">{trial.problem}</span>
          </div>
        </td>
      </tr>
    );
  }
  const open = (sheet: string) => addressOf("trials", trial.name, sheet);
  return (
    <tr>
      <td class="number soft">{item}</td>
      <th scope="row">
        <a class="trial-link" href={open(trial.next.sheet)}>
          {trial.title}
        </a>
        <span class="question">{trial.question}</span>
        <Stamp dataKind={trial.dataKind} />
      </th>
      <td class="progress-cell">
        <Progress read={trial.runsRead} runs={trial.runs} />
      </td>
      <td>
        <a class="button" href={open(trial.next.sheet)}>
          {trial.next.text}
          <span class="heard-only">: {trial.title}</span>
        </a>
      </td>
    </tr>
  );
}

function List({ list }: { readonly list: readonly TrialListing[] }) {
  if (list.length === 0) {
    return (
      <div class="view measure">
        <p>
          There is no trial yet. A trial is one question, the passes that answer it, and what the gauge said.
        </p>
      </div>
    );
  }
  return (
    <table class="trials">
      <thead>
        <tr>
          <th scope="col" class="number">
            Item
          </th>
          <th scope="col">Trial</th>
          <th scope="col">Runs read</th>
          <th scope="col">To do next</th>
        </tr>
      </thead>
      <tbody>
        {list.map((trial, index) => (
          <Line key={trial.name} trial={trial} item={index + 1} />
        ))}
      </tbody>
    </table>
  );
}

/** All trials of the project, each with what to do next. */
export function TrialsPage() {
  useEffect(() => void load(), []);
  useLive("/api/live/changes", { changed: () => void load() });
  const list = trials.value;
  const cells = [
    { label: "Project", value: session.value?.project ?? "", size: "wide" as const },
    { label: "Sheet", value: "List of trials", size: "wide" as const },
    { label: "Date", value: (session.value?.now ?? "").slice(0, 10) },
    { label: "Trials", value: list === null ? "" : String(list.length) },
  ];
  return (
    <Sheet
      heading="Trials"
      lead="Each trial is a folder of plain files in experiments/. Open the one you are working on, or plan a new one."
      cells={cells}
      beside={
        <div class="row">
          <a class="button first" href="/new-trial">
            Plan a trial
          </a>
          <a class="button" href="/import">
            Bring in a table
          </a>
        </div>
      }
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {list === null ? (
        failure.value === "" ? (
          <Waiting what="The trials are on their way." />
        ) : null
      ) : (
        <List list={list} />
      )}
    </Sheet>
  );
}
