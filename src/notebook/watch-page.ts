import { watch, type FSWatcher } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import type { Answers } from "./ask.ts";
import type { Page } from "./entry.ts";
import type { OnEntry } from "./page.ts";
import type { Runner } from "./runner.ts";

export interface WatchOptions {
  readonly answers?: Answers;
  readonly limitMs?: number;
  /** Told when a run begins; what was shown before is out of date. */
  readonly onStart?: () => void;
  readonly onEntry?: OnEntry;
  /** Told of each page that was run to its end; a run that a newer change overtook is not told. */
  readonly onPage?: (page: Page) => void;
  /** Told where a page can't be run at all, such as a library that doesn't load. */
  readonly onFailure?: (error: unknown) => void;
  /** How long to wait for more changes before running, in milliseconds: an editor writes a file in several steps. Default 12. */
  readonly settleMs?: number;
}

export interface WatchedPage {
  /** Runs again with other answers. */
  readonly answer: (answers: Answers) => void;
  /** Stops the run that is going on; its page says so. */
  readonly stop: () => void;
  /** Ends watching, and the run that is going on. */
  readonly close: () => void;
}

/**
 * Runs a notebook now and again whenever its file, one of its imports or a file of a trial it opened changes. A change during a run
 * breaks that run off and starts the next one.
 */
export function watchPage(runner: Runner, file: string, options: WatchOptions = {}): WatchedPage {
  const {
    onStart = () => {},
    onEntry = () => {},
    onPage = () => {},
    onFailure = () => {},
    limitMs,
    settleMs = 12,
  } = options;
  let answers = options.answers ?? {};
  let running: { readonly stop: AbortController; overtaken: boolean } | null = null;
  let timer: NodeJS.Timeout | undefined;
  let closed = false;
  const watchers = new Map<string, FSWatcher>();
  let watched = new Set([resolve(file)]);

  function watchFolders(): void {
    const folders = new Set([...watched].map((each) => dirname(each)));
    for (const [folder, watcher] of watchers) {
      if (folders.has(folder)) continue;
      watcher.close();
      watchers.delete(folder);
    }
    for (const folder of folders) {
      if (!watchers.has(folder)) watchFolder(folder);
    }
  }
  // The folder is watched, not the file: a file that is saved by rename is another file afterwards.
  function watchFolder(folder: string): void {
    try {
      const watcher = watch(folder, { persistent: false }, (_event, name) => {
        if (name === null || watched.has(resolve(folder, basename(name)))) runSoon(settleMs);
      });
      watcher.on("error", () => {
        watcher.close();
        watchers.delete(folder);
      });
      watchers.set(folder, watcher);
    } catch {
      // A folder that isn't there: the notebook's own error says so, and its file is still watched.
    }
  }
  function runSoon(delayMs: number): void {
    clearTimeout(timer);
    if (!closed) timer = setTimeout(() => void runNow(), delayMs);
  }
  async function runNow(): Promise<void> {
    if (running !== null) {
      running.overtaken = true;
      running.stop.abort();
    }
    const mine = { stop: new AbortController(), overtaken: false };
    running = mine;
    onStart();
    try {
      const page = await runner.run(file, {
        answers,
        signal: mine.stop.signal,
        ...(limitMs === undefined ? {} : { limitMs }),
        onEntry: (entry, index) => {
          if (!mine.overtaken) onEntry(entry, index);
        },
      });
      if (mine.overtaken) return;
      running = null;
      // A run that was broken off may not have come as far as its imports: what was watched stays watched.
      const complete = page.entries.every((entry) => entry.kind !== "error");
      watched = new Set([...page.dependencies, ...(complete ? [] : watched), resolve(file)]);
      if (!closed) watchFolders();
      onPage(page);
    } catch (error) {
      if (mine.overtaken) return;
      running = null;
      onFailure(error);
    }
  }

  watchFolders();
  runSoon(0);
  return {
    answer: (given) => {
      answers = given;
      runSoon(0);
    },
    stop: () => running?.stop.abort(),
    close: () => {
      closed = true;
      clearTimeout(timer);
      for (const watcher of watchers.values()) watcher.close();
      watchers.clear();
      if (running !== null) {
        running.overtaken = true;
        running.stop.abort();
      }
    },
  };
}
