import type { NotebookPage } from "./page.ts";

/** A notebook that is not yet run: what a notebook's module exports by default. */
export interface Notebook {
  readonly title: string;
  readonly body: (page: NotebookPage) => void | Promise<void>;
  /** The module that defines it, absolute path. */
  readonly file: string;
}
