import { resolve } from "node:path";
import type { Terminal } from "./verb.ts";

/** The folder of trials of the project that the command was called in. */
export function experimentsRoot({ folder }: Pick<Terminal, "folder">): string {
  return resolve(folder, "experiments");
}
