// The first file of a notebook's worker. Plain JavaScript, because what reads TypeScript is only registered here.
import module from "node:module";
import { parentPort, workerData } from "node:worker_threads";
import { register } from "tsx/esm/api";

const { library } = workerData;
const loaded = [];
register({ onImport: (address) => loaded.push(address) });

// "trycut" is this copy of the library from wherever a notebook lies, so that what it imports is what was loaded ahead; and a notebook
// and its parts are modules, also in a folder whose package.json does not say so (tsx marks the addresses of parts that it takes for
// CommonJS: the marks are taken off again).
const hook = `
const library = ${JSON.stringify(library)};
const isSource = (url) => /^file:.*\\.ts$/.test(url) && !url.includes("/node_modules/");
const settled = (found) => {
  const url = found.url.replace(/(\\?|%3F)tsx-commonjs-.*$/, "");
  return isSource(url) ? { ...found, url, format: "module" } : found;
};
export function resolve(name, context, next) {
  if (name === "trycut") return { url: library, format: "module", shortCircuit: true };
  const found = next(name, context);
  return found instanceof Promise ? found.then(settled) : settled(found);
}`;
const hookModule = `data:text/javascript,${encodeURIComponent(hook)}`;
if (typeof module.registerHooks === "function")
  module.registerHooks({ resolve: (await import(hookModule)).resolve });
else module.register(hookModule);

const { startWorker } = await import("./worker.ts");
await startWorker({ port: parentPort, library, loaded });
