// The first file of a notebook's worker. Plain JavaScript, because what reads TypeScript is only registered here.
import module from "node:module";
import { parentPort, workerData } from "node:worker_threads";
import { register } from "tsx/esm/api";

const { library, source } = workerData;
const isOneFile = library !== source;
// Loaded before anything reads TypeScript, which would read all of it again. The one file holds the worker's part too, so that both
// share what the library remembers.
const ahead = isOneFile ? await import(library) : null;
const loaded = [];
register({ onImport: (address) => loaded.push(address) });

// "trycut", and the library's source where a notebook names that, is this copy of the library from wherever a notebook lies, so that
// what it imports is what was loaded ahead; and a notebook
// and its parts are modules, also in a folder whose package.json does not say so (tsx marks the addresses of parts that it takes for
// CommonJS: the marks are taken off again).
const hook = `
const library = ${JSON.stringify(library)};
const source = ${JSON.stringify(source)};
const thisCopy = { url: library, format: "module", shortCircuit: true };
const isSource = (url) => /^file:.*\\.ts$/.test(url) && !url.includes("/node_modules/");
const settled = (found) => {
  const url = found.url.replace(/(\\?|%3F)tsx-commonjs-.*$/, "");
  if (url === source) return thisCopy;
  return isSource(url) ? { ...found, url, format: "module" } : found;
};
export function resolve(name, context, next) {
  if (name === "trycut") return thisCopy;
  const found = next(name, context);
  return found instanceof Promise ? found.then(settled) : settled(found);
}`;
const hookModule = `data:text/javascript,${encodeURIComponent(hook)}`;
if (typeof module.registerHooks === "function")
  module.registerHooks({ resolve: (await import(hookModule)).resolve });
else module.register(hookModule);

const { startWorker } = ahead ?? (await import("./worker.ts"));
await startWorker({ port: parentPort, library, loaded });
