// The first file of a search's worker. Plain JavaScript, because what reads TypeScript is only registered here.
import { parentPort, workerData } from "node:worker_threads";
import { register } from "tsx/esm/api";

register();
const { startSearchWorker } = await import("./search-worker.ts");
startSearchWorker(parentPort, workerData);
