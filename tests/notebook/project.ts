import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

/** A throwaway project folder with these files; the path of the folder, and how to be rid of it. */
export async function project(
  files: Readonly<Record<string, string>>,
): Promise<{ readonly root: string; readonly remove: () => Promise<void> }> {
  const root = await mkdtemp(join(tmpdir(), "trycut notebook (test) "));
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(root, name)), { recursive: true });
    await writeFile(join(root, name), content);
  }
  return { root, remove: () => rm(root, { recursive: true, force: true }) };
}
