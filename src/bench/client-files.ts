import { readdir, readFile } from "node:fs/promises";
import { extname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";

/** Where vite puts the client. */
export const builtFolder = fileURLToPath(new URL("built", import.meta.url));

const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".json": "application/json",
};

export interface ClientFile {
  readonly body: Uint8Array<ArrayBuffer>;
  readonly type: string;
}

/**
 * Reads the whole built client into memory, by address ("/index.html"). What is asked for is looked up in this list,
 * so that no address can lead to another file.
 */
export async function readClientFiles(folder: string): Promise<ReadonlyMap<string, ClientFile>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch((error: unknown) => {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return [];
    throw error;
  });
  const names = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const files = await Promise.all(
    names.map(async (name): Promise<[string, ClientFile]> => {
      const body = new Uint8Array(await readFile(name));
      const type = types[extname(name)] ?? "application/octet-stream";
      return [`/${relative(folder, name).split(sep).join("/")}`, { body, type }];
    }),
  );
  return new Map(files);
}
