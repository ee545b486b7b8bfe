// Plain JavaScript, because it is asked before anything that reads TypeScript is loaded; what it does is told in built-ahead.d.mts.
import { URL } from "node:url";
import { readFile, stat } from "node:fs/promises";

const folder = new URL("built/", import.meta.url);

export async function builtAhead(name, place = folder) {
  try {
    const file = new URL(`${name}.mjs`, place);
    const { mtimeMs: builtAt } = await stat(file);
    const sources = JSON.parse(await readFile(new URL(`${name}.sources.json`, place), "utf8"));
    const changed = await Promise.all(
      sources.map(async (source) => (await stat(new URL(source, place))).mtimeMs),
    );
    return changed.every((changedAt) => changedAt <= builtAt) ? file.href : null;
  } catch {
    return null;
  }
}
