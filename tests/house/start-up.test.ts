import { readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

/** Every file of the project that loading one of its files loads with it: imports that are neither types nor made when asked for. */
function loadedWith(file: string, loaded = new Set<string>()): ReadonlySet<string> {
  if (loaded.has(file)) return loaded;
  loaded.add(file);
  const text = readFileSync(file, "utf8");
  for (const [, kind, path] of text.matchAll(
    /^(?:import|export)\s+(type\s)?(?:[^;"]*?\sfrom\s+)?"(\.[^"]+)";/gmu,
  ))
    if (kind === undefined) loadedWith(resolve(dirname(file), path), loaded);
  return loaded;
}

test("the bench listens before it loads what fits, draws and runs notebooks", () => {
  const source = fileURLToPath(new URL("../../src/", import.meta.url));
  const floors = new Set(
    [...loadedWith(resolve(source, "bench/index.ts"))].map((file) => file.slice(source.length).split("/")[0]),
  );
  // The walker follows imports at all: the bench's own files are many.
  expect(loadedWith(resolve(source, "bench/index.ts")).size).toBeGreaterThan(20);
  expect([...floors].filter((floor) => floor !== "bench" && floor !== "units" && floor !== "trial")).toEqual(
    [],
  );
});
