import { open, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";

/**
 * Writes a file whole or not at all: the text goes to a file beside it, reaches the disk, and takes the name in one step, so that
 * neither a reader nor a power cut ever meets half a page. On failure the old file stands and nothing is left behind.
 */
export async function writeWhole(file: string, content: string | Uint8Array): Promise<void> {
  const draft = join(dirname(file), `.${process.pid}-${draftNumber++}.tmp`);
  try {
    const handle = await open(draft, "w");
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(draft, file);
  } catch (error) {
    await rm(draft, { force: true });
    throw error;
  }
}

let draftNumber = 0;
