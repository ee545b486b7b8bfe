// The first file of every worker that computes. Plain JavaScript, because what reads TypeScript is only registered here.
import { URL } from "node:url";
import { parentPort, workerData } from "node:worker_threads";
import { builtAhead } from "../built-ahead.mjs";

const { module, data } = workerData;
const built = await builtAhead("threads");
let work =
  built === null ? undefined : (await import(built)).works[new URL(module).pathname.split("/").at(-1)];
if (work === undefined) {
  const { register } = await import("tsx/esm/api");
  register();
  work = await import(module);
}
work.startWorker(parentPort, data);
