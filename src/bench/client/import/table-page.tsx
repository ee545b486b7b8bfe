import { effect, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { ImportOutcome } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { folderNameFrom } from "../new-trial/folder-name.ts";
import { addressOf, go } from "../place.ts";
import { Refusal } from "../sheet/notice.tsx";
import { Sheet } from "../sheet/sheet.tsx";
import { ColumnsPart, TakenPart, WhyNotYet } from "./columns-part.tsx";
import { failure, hasTable, isReady, lookAt, noTable, preview, table } from "./import-state.ts";
import { MattersPart } from "./matters-part.tsx";
import { SourcePart } from "./source-part.tsx";

type DataKind = "measured" | "published" | "invented";

interface About {
  readonly title: string;
  readonly question: string;
  readonly dataKind: DataKind;
  readonly source: string;
  readonly display: "metric" | "inch";
}

const noAbout: About = { title: "", question: "", dataKind: "measured", source: "", display: "metric" };

const about = signal<About>(noAbout);
const name = signal("");
const surface = signal("");
const busy = signal(false);

const pauseMs = 250;

function request(): object {
  const columns = surface.value.split(/[,;]/).map((each) => each.trim());
  return {
    ...table.value,
    about: about.value,
    name: name.value.trim(),
    surface: columns.filter((each) => each !== ""),
  };
}

function set(part: Partial<About>): void {
  const follows = name.value === folderNameFrom(about.value.title);
  about.value = { ...about.value, ...part };
  if (follows) name.value = folderNameFrom(about.value.title);
}

async function create(): Promise<void> {
  busy.value = true;
  try {
    const outcome = await tell<ImportOutcome>("/api/tables", request());
    if (outcome.kind === "asked") {
      preview.value = outcome.answer;
      return;
    }
    announce(`Trial ${outcome.trial} made, with ${outcome.readings} readings.`);
    go(addressOf("trials", outcome.trial, "review"));
  } catch (error) {
    failure.value = messageOf(error);
  } finally {
    busy.value = false;
  }
}

function AboutPart() {
  const { title, question, dataKind, source, display } = about.value;
  return (
    <section class="view" aria-labelledby="part-about">
      <h2 id="part-about">What the table is about</h2>
      <div class="row">
        <TextField
          id="title"
          class="grow"
          label="Title"
          value={title}
          onValue={(value) => set({ title: value })}
        />
        <TextField
          id="name"
          class="grow"
          label="Name of the folder"
          value={name.value}
          onValue={(value) => (name.value = value)}
          hint="Its files lie in experiments/ under this name"
        />
      </div>
      <TextField
        id="question"
        label="Question"
        lines={2}
        value={question}
        onValue={(value) => set({ question: value })}
      />
      <div class="row">
        <ChoiceField
          id="data-kind"
          label="The readings are"
          value={dataKind}
          choices={[
            ["measured", "Measured here"],
            ["published", "Taken from a publication"],
            ["invented", "Invented, for practice"],
          ]}
          onValue={(value) => set({ dataKind: value })}
        />
        <ChoiceField
          id="display"
          label="Show quantities in"
          value={display}
          choices={[
            ["metric", "Metric units"],
            ["inch", "Inch units"],
          ]}
          onValue={(value) => set({ display: value })}
        />
        <TextField
          id="source"
          class="grow"
          label="Machine, gauge or publication"
          value={source}
          onValue={(value) => set({ source: value })}
          hint="With its licence, where it is published"
        />
      </div>
      <TextField
        id="surface"
        label="Columns that together name one surface"
        value={surface.value}
        onValue={(value) => (surface.value = value)}
        hint="Such as: run, edge. Empty: the run column. Rows of one surface are repeats; a fresh surface is a run of its own."
      />
    </section>
  );
}

/** A whole trial from a table that carries settings and readings: runs that came from elsewhere. */
export function TablePage() {
  useEffect(() => {
    table.value = noTable;
    preview.value = null;
    failure.value = "";
    about.value = noAbout;
    name.value = "";
    surface.value = "";
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = effect(() => {
      const body = request();
      clearTimeout(timer);
      if (hasTable.value) timer = setTimeout(() => void lookAt("/api/tables/preview", body), pauseMs);
    });
    return () => {
      stop();
      clearTimeout(timer);
    };
  }, []);
  const cells = [
    { label: "Sheet", value: "Trial from a table", size: "wide" as const },
    { label: "Rows", value: preview.value === null ? "" : String(preview.value.rows) },
    { label: "Folder", value: name.value, size: "widest" as const },
  ];
  return (
    <Sheet
      heading="Bring in a table"
      lead="A table with settings and readings becomes a trial whose runs came from elsewhere. Nothing is written before you say so."
      cells={cells}
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      <SourcePart hint="With headers such as: run, feed [mm/rev], edge, Ra [µm]. Comma or semicolon, decimal point or comma." />
      <AboutPart />
      <ColumnsPart />
      <MattersPart />
      <TakenPart />
      <WhyNotYet />
      {hasTable.value ? (
        <div>
          <button
            type="button"
            class="first"
            disabled={!isReady.value || busy.value || name.value.trim() === ""}
            onClick={() => void create()}
          >
            Make the trial
          </button>
        </div>
      ) : null}
    </Sheet>
  );
}
