import { batch, signal } from "@preact/signals";
import { useEffect, useLayoutEffect, useMemo, useRef } from "preact/hooks";
import type { LiveEntry, LivePage } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { useLive } from "../live.ts";
import { addressOf, changeQuery, place } from "../place.ts";
import { useEntryStyle } from "../sheet/made.tsx";
import { Refusal } from "../sheet/notice.tsx";
import { Sheet } from "../sheet/sheet.tsx";
import type { TitleCell } from "../sheet/title-block.tsx";

const entries = signal<readonly LiveEntry[]>([]);
const page = signal<LivePage | null>(null);
const running = signal("");
const failure = signal("");

function onStart(data: unknown): void {
  // What the bench tells is typed by api.ts on both sides; here and below.
  running.value = (data as { stream: string }).stream;
  failure.value = "";
}

function onEntry(data: unknown): void {
  const entry = data as LiveEntry;
  const next = [...entries.value];
  next[entry.index] = entry;
  entries.value = next;
}

function onPage(data: unknown): void {
  const told = data as LivePage;
  batch(() => {
    page.value = told;
    entries.value = entries.value.slice(0, told.entries);
    running.value = "";
  });
  announce(told.failed ? "The notebook stopped with an error." : "The page is up to date.");
}

function onFailure(data: unknown): void {
  running.value = "";
  failure.value = (data as { message: string }).message;
}

function stop(): void {
  tell("/api/notebooks/stop", { stream: running.value }).catch(
    (error: unknown) => (failure.value = messageOf(error)),
  );
}

/** Drawing an entry anew must not take the field away in which somebody types: the focus goes back to its successor. */
function useKeptFocus(): void {
  const before = useRef("");
  const now = document.activeElement;
  if (now instanceof HTMLElement && now.closest(".live") !== null) before.current = now.id;
  useLayoutEffect(() => {
    if (before.current === "" || document.activeElement !== document.body) return;
    document.getElementById(before.current)?.focus();
  });
}

function answer(event: Event): void {
  const control = event.target;
  if (control instanceof HTMLInputElement || control instanceof HTMLSelectElement) {
    if (control.name !== "") changeQuery({ [`answer.${control.name}`]: control.value });
  }
}

function Entries() {
  useKeptFocus();
  useEntryStyle();
  return (
    <div
      class="entries live"
      aria-busy={running.value !== ""}
      onChange={answer}
      onSubmit={(event) => event.preventDefault()}
    >
      {entries.value.map((entry) => (
        <div key={entry.index} class="live-entry" dangerouslySetInnerHTML={{ __html: entry.html }} />
      ))}
    </div>
  );
}

function cellsOf(name: string, told: LivePage | null): readonly TitleCell[] {
  const block = told?.titleBlock;
  return [
    { label: "Notebook", value: `notebooks/${name}.ts`, size: "wide" },
    { label: "Trial", value: block?.trial ?? "", size: "wide" },
    { label: "Units", value: block?.units ?? "" },
    { label: "Date", value: block?.date ?? "" },
    { label: "Question", value: block?.question ?? "", size: "widest" },
    { label: "Kind of data", value: block?.dataKind ?? "" },
    { label: "Data checksum", value: (block?.checksum ?? "").slice(0, 12) },
    { label: "Software", value: block === undefined ? "" : `Trycut ${block.softwareVersion}` },
  ];
}

/** A notebook's page, redrawn when its file, what it imports, a trial it reads or an answer changes. */
export function NotebookPage({ name }: { readonly name: string }) {
  const answers = useMemo(() => place.value.query.toString(), [place.value.query]);
  useEffect(() => {
    batch(() => {
      entries.value = [];
      page.value = null;
      running.value = "";
      failure.value = "";
    });
  }, [name]);
  const address = `/api/live${addressOf("notebooks", name)}${answers === "" ? "" : `?${answers}`}`;
  useLive(address, { start: onStart, entry: onEntry, page: onPage, failure: onFailure });
  const isInvented = page.value?.titleBlock.dataKind.includes("invented") === true;
  return (
    <Sheet
      heading={page.value?.title ?? name.replaceAll("-", " ")}
      beside={
        <div class="row middle">
          {isInvented ? <span class="stamp">Invented data</span> : null}
          <span class="soft run-state">
            {running.value === "" ? (page.value === null ? "" : "Up to date") : "Running …"}
          </span>
          <button type="button" class="no-print" disabled={running.value === ""} onClick={stop}>
            Stop
          </button>
        </div>
      }
      cells={cellsOf(name, page.value)}
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      <Entries />
    </Sheet>
  );
}
