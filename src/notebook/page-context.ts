import { AsyncLocalStorage } from "node:async_hooks";

/** What a page learns of a trial that its notebook opened: the cells of the title block, and the files to watch. */
export interface OpenedTrial {
  readonly name: string;
  readonly title: string;
  readonly question: string;
  readonly display: "metric" | "inch";
  readonly dataKind: string;
  readonly source: string;
  readonly checksum: string;
  /** Absolute paths. */
  readonly files: readonly string[];
}

/** What surrounds one run of one notebook. */
export interface PageContext {
  /** The project's folder, which holds `experiments/`. */
  readonly root: string;
  readonly opened: OpenedTrial[];
  /** Other files that the page was made from, absolute paths. */
  readonly files: Set<string>;
}

const current = new AsyncLocalStorage<PageContext>();

/**
 * Trials opened at the top of a module, before there is a page. The next page that starts takes them over: in a worker, and under
 * `npx tsx`, there is only one.
 */
const openedBefore: OpenedTrial[] = [];

/** Runs `body` with `context` around it, through every await inside. */
export function withPageContext<Result>(context: PageContext, body: () => Result): Result {
  context.opened.push(...openedBefore.splice(0));
  return current.run(context, body);
}

/** The context of the notebook that is running here; undefined outside of one. */
export function pageContext(): PageContext | undefined {
  return current.getStore();
}

/** Tells the page that a trial was opened for it. */
export function noteOpened(trial: OpenedTrial): void {
  (current.getStore()?.opened ?? openedBefore).push(trial);
}
