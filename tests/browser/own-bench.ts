import { cp, mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { startBenchProcess, type BenchProcess } from "./bench-process.ts";
import { launchBrowser } from "./browser.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));

/** What a file of browser tests works with; filled in before its first test. */
export interface OwnBench {
  root: string;
  browser: Browser;
  bench: BenchProcess;
}

/**
 * A project folder of its own with a bench on it and a browser, started before the tests of the file that calls this and cleared away after them.
 * @param trials names of the project's trials to copy in
 * @param options.prepare changes the folder before the bench starts
 */
export function ownBench(
  trials: readonly string[] = [],
  { prepare = async () => {} }: { readonly prepare?: (root: string) => Promise<void> } = {},
): OwnBench {
  // Nothing reads a field before the hook has filled it.
  const own = {} as OwnBench;
  beforeAll(async () => {
    own.root = await mkdtemp(join(tmpdir(), "trycut-browser-"));
    await mkdir(join(own.root, "experiments"));
    await mkdir(join(own.root, "notebooks"));
    for (const name of trials)
      await cp(join(project, "experiments", name), join(own.root, "experiments", name), { recursive: true });
    await prepare(own.root);
    own.browser = await launchBrowser();
    own.bench = await startBenchProcess(own.root);
  });
  afterAll(async () => {
    await own.bench.end();
    await own.browser.close();
    await rm(own.root, { recursive: true, force: true });
  });
  return own;
}
