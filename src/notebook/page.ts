import type { Figure } from "../figure/index.ts";
import type { Remark } from "../review/index.ts";
import { asFigureTable, type TableSource } from "./as-table.ts";
import { createAsk, type Answers, type Ask } from "./ask.ts";
import type { Entry } from "./entry.ts";
import { notebookError } from "./error.ts";

/** What a notebook writes on, from top to bottom. */
export interface NotebookPage {
  /** Markdown; raw HTML shows as text. */
  readonly prose: (markdown: string) => void;
  readonly heading: (text: string) => void;
  /** A figure with its caption (default: the figure's own title); the numbers behind it follow, folded. */
  readonly figure: (figure: Figure, options?: { readonly caption?: string }) => void;
  /** Columns and rows, an Arquero table, records, or a result that carries a table. */
  readonly table: (table: TableSource, options?: { readonly caption?: string }) => void;
  /** A small footnote to what stands above: the method and its published source. */
  readonly method: (text: string) => void;
  readonly remarks: (remarks: readonly Remark[]) => void;
  readonly cautions: (cautions: readonly string[]) => void;
  readonly ask: Ask;
  /** How far a long computation is; called again with the same label, it moves the same bar. */
  readonly progress: (label: string, done: number, of: number) => void;
}

/** Told of each entry as it comes; an index that came before replaces that entry (progress). */
export type OnEntry = (entry: Entry, index: number) => void;

/** A page being written. */
export interface PageInWork {
  readonly page: NotebookPage;
  readonly entries: readonly Entry[];
  /** Where the notebook last called the page: for errors whose own stack does not name the notebook. */
  readonly lastCall: () => Error | null;
  /** Nothing can be written afterwards. */
  readonly close: () => void;
}

/** Progress within this many milliseconds of the last one told is kept and told with the next one. */
const progressEveryMs = 40;

/**
 * A page to write on.
 *
 * @param answers the reader's answers by label
 * @param onEntry told of each entry as it comes
 * @param now milliseconds, for holding back progress that comes too fast to be seen
 */
export function createPage(answers: Answers, onEntry: OnEntry, now: () => number): PageInWork {
  const entries: Entry[] = [];
  const bars = new Map<string, number>();
  let lastTold = -Infinity;
  let lastCall: Error | null = null;
  let closed = false;

  function mark(): void {
    // The stack's text is made only when it is read, so that this costs little.
    lastCall = new Error("page");
    if (closed)
      throw notebookError(
        "The notebook had ended when it wrote this; put an await before what it started and did not wait for.",
      );
  }
  function add(entry: Entry): void {
    mark();
    entries.push(entry);
    onEntry(entry, entries.length - 1);
  }
  function progress(label: string, done: number, of: number): void {
    mark();
    if (!(Number.isFinite(done) && Number.isFinite(of) && of > 0)) {
      throw notebookError(
        `page.progress("${label}", ${done}, ${of}): expected how many are done, and of how many (more than 0).`,
      );
    }
    const entry: Entry = { kind: "progress", label, done: Math.min(Math.max(done, 0), of), of };
    const index = bars.get(label);
    if (index === undefined) {
      bars.set(label, entries.length);
      add(entry);
      return;
    }
    entries[index] = entry;
    if (done < of && now() - lastTold < progressEveryMs) return;
    lastTold = now();
    onEntry(entry, index);
  }

  const page: NotebookPage = {
    prose: (markdown) => add({ kind: "prose", markdown: text("prose", markdown) }),
    heading: (heading) => add({ kind: "heading", text: text("heading", heading) }),
    figure: (figure, { caption = figure.title } = {}) => add({ kind: "figure", figure, caption }),
    table: (table, { caption = "" } = {}) => add({ kind: "table", table: asFigureTable(table), caption }),
    method: (footnote) => add({ kind: "method", text: text("method", footnote) }),
    remarks: (remarks) => add({ kind: "remarks", remarks }),
    cautions: (cautions) => add({ kind: "cautions", cautions }),
    ask: createAsk(answers, add),
    progress,
  };
  return {
    page,
    entries,
    lastCall: () => lastCall,
    close: () => {
      closed = true;
    },
  };
}

function text(method: string, given: unknown): string {
  if (typeof given === "string") return given;
  throw notebookError(`page.${method} takes text, got ${given === null ? "null" : typeof given}.`);
}
