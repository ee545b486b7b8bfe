import { basename, sep } from "node:path";
import { pathToFileURL } from "node:url";
import type { MessagePort } from "node:worker_threads";
import type { Answers } from "./ask.ts";
import { pathOf } from "./caller-file.ts";
import type { Entry, Page } from "./entry.ts";
import { notebookError } from "./error.ts";
import { errorEntry, librarySource } from "./error-entry.ts";
import { isNotebook } from "./notebook.ts";
import { runDefinition, type Surroundings } from "./run-definition.ts";
import { titleBlockOf } from "./title-block.ts";
import { warmUp } from "./warm-up.ts";

/** What the runner sends to a worker, once. */
export interface RunOrder {
  readonly file: string;
  readonly root: string;
  readonly answers: Answers;
  readonly date: string;
}

/** What a worker tells the runner. */
export type WorkerReport =
  | { readonly kind: "ready" }
  | { readonly kind: "rehearsed" }
  | { readonly kind: "entry"; readonly entry: Entry; readonly index: number }
  | { readonly kind: "done"; readonly page: Page };

/** What the first file of the worker hands over. */
export interface WorkerStart {
  readonly port: MessagePort;
  /** Address of the library's door. */
  readonly library: string;
  /** Addresses of the modules loaded so far; more are added as they load. */
  readonly loaded: string[];
}

/** Loads the library, says so, and rehearses until the one run comes that this worker is for. */
export async function startWorker({ port, library, loaded }: WorkerStart): Promise<void> {
  await import(library);
  loaded.length = 0;
  let isWanted = false;
  port.once("message", (order: RunOrder) => {
    isWanted = true;
    // A notebook that waits for what never comes lets the worker end, and the runner says so.
    port.unref();
    void run(order, loaded, (report) => port.postMessage(report));
  });
  port.postMessage({ kind: "ready" } satisfies WorkerReport);
  await warmUp(() => isWanted);
  port.postMessage({ kind: "rehearsed" } satisfies WorkerReport);
}

async function run(
  order: RunOrder,
  loaded: readonly string[],
  tell: (report: WorkerReport) => void,
): Promise<void> {
  let told = 0;
  const onEntry = (entry: Entry, index: number): void => {
    told = Math.max(told, index + 1);
    tell({ kind: "entry", entry, index });
  };
  const surroundings: Surroundings = { ...order, onEntry };
  const done = async (page: Page): Promise<void> => {
    // The names of the last modules loaded may still be on their way from the loader's thread.
    await new Promise((resolve) => setImmediate(resolve));
    tell({
      kind: "done",
      page: { ...page, dependencies: [...new Set([...page.dependencies, ...ownSources(loaded)])] },
    });
  };
  // An error thrown in a timer, or in a promise that nobody awaits, passes by the notebook's own await.
  process.on("uncaughtException", (error) => {
    onEntry(errorEntry(error, order), told);
    void done(pageWithoutBody(order));
  });
  try {
    const module: unknown = await import(pathToFileURL(order.file).href);
    const definition: unknown =
      typeof module === "object" && module !== null && "default" in module ? module.default : undefined;
    if (!isNotebook(definition)) {
      throw notebookError(
        'This file has no notebook. Expected: export default notebook({ title: "…" }, async (page) => { … });',
      );
    }
    await done(await runDefinition(definition, surroundings));
  } catch (error) {
    onEntry(errorEntry(error, order), told);
    const page = pageWithoutBody(order);
    await done({ ...page, dependencies: [...page.dependencies, ...missingFile(error)] });
  }
}

/** Where the notebook did not come as far as a page, or fell over outside of it. The runner holds the entries that were told. */
function pageWithoutBody({ file, date }: RunOrder): Page {
  const title = basename(file).replace(/\.[cm]?[jt]s$/, "");
  return { title, entries: [], titleBlock: titleBlockOf(title, [], date), dependencies: [file] };
}

/** A local file that was imported and isn't there: when it comes, the page is to be run again. */
function missingFile(error: unknown): readonly string[] {
  if (!(error instanceof Error && "url" in error && typeof error.url === "string")) return [];
  return error.url.startsWith("file:") ? [pathOf(error.url)] : [];
}

/** The project's own modules among those loaded: neither packages nor the library. */
function ownSources(loaded: readonly string[]): readonly string[] {
  return loaded
    .filter((address) => address.startsWith("file:"))
    .map(pathOf)
    .filter((file) => !file.includes(`${sep}node_modules${sep}`) && !file.startsWith(librarySource));
}
