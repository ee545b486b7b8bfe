import type { Answers } from "./ask.ts";
import type { Page } from "./entry.ts";
import { errorEntry } from "./error-entry.ts";
import type { Notebook } from "./definition.ts";
import { withPageContext, type PageContext } from "./page-context.ts";
import { createPage, type OnEntry } from "./page.ts";
import { titleBlockOf } from "./title-block.ts";

/** What surrounds a run; nothing else is read. */
export interface Surroundings {
  /** The notebook's file, absolute. */
  readonly file: string;
  /** The project's folder. */
  readonly root: string;
  readonly answers: Answers;
  /** ISO date for the title block. */
  readonly date: string;
  readonly onEntry: OnEntry;
}

/** Runs a notebook here, from top to bottom. A thrown error becomes the last entry; what came before stays. */
export async function runDefinition(definition: Notebook, surroundings: Surroundings): Promise<Page> {
  const { file, root, answers, date, onEntry } = surroundings;
  const context: PageContext = { root, opened: [], files: new Set([file]) };
  const work = createPage(answers, onEntry, () => performance.now());
  const entries = [];
  try {
    await withPageContext(context, async () => definition.body(work.page));
    entries.push(...work.entries);
  } catch (error) {
    entries.push(...work.entries);
    const entry = errorEntry(error, { file, root, lastCall: work.lastCall() });
    entries.push(entry);
    onEntry(entry, entries.length - 1);
  }
  work.close();
  return {
    title: definition.title,
    entries,
    titleBlock: titleBlockOf(definition.title, context.opened, date),
    dependencies: [...new Set([...context.files, ...context.opened.flatMap((trial) => trial.files)])],
  };
}
