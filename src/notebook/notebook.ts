import { extname } from "node:path";
import { isMainThread } from "node:worker_threads";
import { callerFile, isSameFile } from "./caller-file.ts";
import type { Notebook } from "./definition.ts";
import { notebookError } from "./error.ts";
import type { NotebookPage } from "./page.ts";
import { runAsProgram } from "./run-as-program.ts";

/** Every definition made by this copy of the library: an object that merely looks like one is none. */
const made = new WeakSet<object>();
const programs = new Set<string>();

/**
 * Defines a notebook: a title, and a function that writes on a page from top to bottom. Export it by default.
 *
 * On the bench it runs in a fresh worker after each change. Started by itself (`npx tsx notebooks/NAME.ts`) it runs once, writes
 * `notebooks/NAME.html` beside its file and prints that path; `--answer "Limit on Ra=0.6 µm"` gives an answer to a question.
 * Refused: an empty title, and a second notebook in one file.
 *
 * @example export default notebook({ title: "Seal face" }, (page) => page.prose("Halving the feed …"));
 */
export function notebook(
  options: { readonly title: string },
  body: (page: NotebookPage) => void | Promise<void>,
): Notebook {
  if (typeof options.title !== "string" || options.title.trim() === "") {
    throw notebookError(
      "notebook({ title }, …): the title is empty. Name what the page is about; it heads the page and its title block.",
    );
  }
  const file = callerFile(notebook);
  const definition: Notebook = { title: options.title, body, file };
  made.add(definition);
  if (isMainThread && isProgram(file, process.argv[1] ?? "")) {
    if (programs.has(file))
      throw notebookError(
        "This file defines two notebooks; a file is one page. Move the second to a file of its own.",
      );
    programs.add(file);
    // The module may still define what the body uses; it has ended by the next turn of the loop.
    setImmediate(() => void runAsProgram(definition, process.argv.slice(2)));
  }
  return definition;
}

/** True for what `notebook(…)` of this copy of the library returned. */
export function isNotebook(value: unknown): value is Notebook {
  return typeof value === "object" && value !== null && made.has(value);
}

/** True where `started` (what Node was asked to run, perhaps without its ending) is this file. */
function isProgram(file: string, started: string): boolean {
  return isSameFile(file, started) || isSameFile(file, started + extname(file));
}
