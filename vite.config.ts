import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

const client = fileURLToPath(new URL("src/bench/client", import.meta.url));
const built = fileURLToPath(new URL("src/bench/built", import.meta.url));

export default defineConfig({
  root: client,
  base: "/",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: { outDir: built, emptyOutDir: true, target: "es2022" },
  logLevel: "warn",
});
