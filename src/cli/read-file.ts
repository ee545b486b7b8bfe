import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { readTable, type DataTable } from "../store/index.ts";
import { formatNumber } from "../units/index.ts";
import { RefusedError } from "./error.ts";
import type { Terminal } from "./verb.ts";

/** The text of a file named on the command line, from where the command was called. */
export async function readText(path: string, { folder }: Pick<Terminal, "folder">): Promise<string> {
  try {
    return await readFile(resolve(folder, path), "utf8");
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    const why =
      code === "ENOENT" ? "there is no such file" : code === "EISDIR" ? "it is a folder" : String(code);
    throw new RefusedError(`${path}: can't be read, ${why}. Expected the path of a file, from ${folder}.`, {
      cause: error,
    });
  }
}

/** A table of this many lines takes long enough to say so. */
const manyLines = 200_000;

/** A table named on the command line; of a long one it is said that it takes a while. */
export async function readDataTable(
  file: string,
  terminal: Pick<Terminal, "folder" | "error">,
): Promise<DataTable> {
  const table = readTable(await readText(file, terminal), { file });
  if (table.rows >= manyLines)
    terminal.error(
      `${formatNumber(table.rows)} lines read; working on them may take a minute. Ctrl-C ends it.`,
    );
  return table;
}

/** A file's text as JSON, with the place of a slip. */
export async function readJson(path: string, terminal: Pick<Terminal, "folder">): Promise<unknown> {
  const text = await readText(path, terminal);
  return parsedJson(text.replace(/^\uFEFF/, ""), path);
}

/** JSON typed on the command line or read from a file; `name` says which. */
export function parsedJson(text: string, name: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    throw new RefusedError(
      `${name}: expected JSON, ${error instanceof Error ? error.message : String(error)}. Look for a missing comma, quote or bracket.`,
      { cause: error },
    );
  }
}
