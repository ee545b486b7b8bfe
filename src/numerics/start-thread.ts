import { Worker } from "node:worker_threads";

/**
 * A thread that loads a module and hands it its order: the module exports `startWorker(port, data)`. Only what can be cloned crosses
 * to another thread.
 * @param module address of the module's source
 */
export function startThread(module: URL, data: unknown): Worker {
  return new Worker(new URL("./worker-first-file.mjs", import.meta.url), {
    workerData: { module: module.href, data },
    // No flags of this process: under tsx they would register its hooks a second time.
    execArgv: [],
  });
}
