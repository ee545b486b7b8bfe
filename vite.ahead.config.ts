import { rename } from "node:fs/promises";
import { basename, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { defineConfig, normalizePath, type Plugin } from "vite";

// The library, the command and the work of threads, each in one file with the packages it needs: some 900 modules of ours and more of
// the packages take seconds to load one by one. Which one to build is vite's mode: `--mode library`, and so on.
const source = normalizePath(fileURLToPath(new URL("src/", import.meta.url)));
const built = normalizePath(fileURLToPath(new URL("src/built/", import.meta.url)));
const entryId = "\0entry";

/** The modules that threads load, each with its own `startWorker`. */
const works = [
  "layout/optimal/search-worker.ts",
  "model/resample/resample-worker.ts",
  "model/choice/choice-worker.ts",
];

const entries: Readonly<Record<string, string>> = {
  library: `export * from ${file("index.ts")}; export { startWorker } from ${file("notebook/worker.ts")};`,
  command: `import ${file("cli/main.ts")};`,
  threads: [
    ...works.map((work, place) => `import * as work${place} from ${file(work)};`),
    `export const works = { ${works.map((work, place) => `"${basename(work)}": work${place}`).join(", ")} };`,
  ].join("\n"),
};

export default defineConfig(({ mode }) => ({
  plugins: [entry(entries[mode] ?? ""), ownAddresses(), listOfSources(mode), putInPlace(mode)],
  publicDir: false,
  ssr: { noExternal: true, external: ["vite"], target: "node" },
  build: {
    ssr: true,
    outDir: built,
    emptyOutDir: false,
    target: "node20",
    rolldownOptions: {
      input: entryId,
      output: { entryFileNames: `${mode}.part.mjs`, format: "es", codeSplitting: false },
    },
  },
  logLevel: "warn",
}));

/** A source's path as a text of JavaScript. */
function file(path: string): string {
  return JSON.stringify(`${source}${path}`);
}

function entry(text: string): Plugin {
  return {
    name: "entry",
    resolveId: (id) => (id === entryId ? id : null),
    load: (id) => (id === entryId ? text : null),
  };
}

/** A module that asks where it lies is told where its source lies: workers, styles and the version are found there. */
function ownAddresses(): Plugin {
  return {
    name: "own-addresses",
    enforce: "pre",
    transform(code, id) {
      if (!id.startsWith(source)) return null;
      const here = JSON.stringify(relative(built, id).replaceAll("\\", "/"));
      return code.replaceAll("import.meta.url", `new URL(${here}, import.meta.url).href`);
    },
  };
}

/** What the file was made of, so that its reader can tell whether it is older than one of its sources. */
function listOfSources(name: string): Plugin {
  return {
    name: "list-of-sources",
    generateBundle() {
      const sources = [...this.getModuleIds()]
        .filter((id) => id.startsWith(source))
        .map((id) => relative(built, id).replaceAll("\\", "/"));
      // The list comes first: without its file, or with an older one, the sources are read.
      this.emitFile({
        type: "asset",
        fileName: `${name}.sources.json`,
        source: JSON.stringify(sources.sort()),
      });
    },
  };
}

/** A file that is read while it is written would be read in half. */
function putInPlace(name: string): Plugin {
  return {
    name: "put-in-place",
    writeBundle: () => rename(`${built}${name}.part.mjs`, `${built}${name}.mjs`),
  };
}
