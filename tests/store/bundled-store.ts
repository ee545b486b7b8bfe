import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";
import { freshRoot } from "./sample-trial.ts";

/** The store as one plain file, for tests that start processes: one that loads it is at work after a tenth of a second. */
export async function bundledStore(): Promise<string> {
  const outDir = await freshRoot();
  await build({
    configFile: false,
    logLevel: "silent",
    build: {
      ssr: fileURLToPath(new URL("../../src/store/index.ts", import.meta.url)),
      outDir,
      emptyOutDir: false,
      minify: false,
      rolldownOptions: { output: { entryFileNames: "store.mjs" } },
    },
    ssr: { noExternal: true },
  });
  return join(outDir, "store.mjs");
}
