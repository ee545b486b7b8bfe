import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { BenchError, messageOf } from "./error.ts";

export interface ClientPlace {
  /** The client's sources. */
  readonly sources: string;
  /** Where vite puts the built client. */
  readonly built: string;
  readonly config: string;
}

export const clientPlace: ClientPlace = {
  sources: fileURLToPath(new URL("client", import.meta.url)),
  built: fileURLToPath(new URL("built", import.meta.url)),
  config: fileURLToPath(new URL("../../vite.config.ts", import.meta.url)),
};

async function newestChange(folder: string): Promise<number> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const times = await Promise.all(
    entries.map(async (entry) => (await stat(join(entry.parentPath, entry.name))).mtimeMs),
  );
  return Math.max(0, ...times);
}

async function changeOf(file: string): Promise<number> {
  try {
    return (await stat(file)).mtimeMs;
  } catch {
    return 0;
  }
}

/** Whether the built client is missing or older than its sources. A package that ships no sources is never stale. */
export async function isClientStale({ sources, built, config }: ClientPlace): Promise<boolean> {
  const builtAt = await changeOf(join(built, "index.html"));
  if (builtAt === 0) return true;
  const changed = Math.max(await newestChange(sources).catch(() => 0), await changeOf(config));
  return changed > builtAt;
}

/**
 * Builds the client if it is missing or stale; otherwise vite isn't even loaded, which keeps the start quick.
 * @throws BenchError where it is missing and can't be built
 */
export async function ensureClient(place: ClientPlace = clientPlace): Promise<"built" | "was ready"> {
  if (!(await isClientStale(place))) return "was ready";
  try {
    const { build } = await import("vite");
    await build({ configFile: place.config });
    return "built";
  } catch (error) {
    if ((await changeOf(join(place.built, "index.html"))) > 0) return "was ready";
    throw new BenchError(
      500,
      `The bench's page is not built and can't be built here (${messageOf(error)}). Run "npm ci" in the folder of Trycut.`,
      { cause: error },
    );
  }
}
