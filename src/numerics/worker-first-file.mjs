// The first file of every worker that computes. Plain JavaScript, because what reads TypeScript is only registered here.
import { parentPort, workerData } from "node:worker_threads";
import { register } from "tsx/esm/api";

register();
const { startWorker } = await import(workerData.module);
startWorker(parentPort, workerData.data);
