import { watch } from "node:fs";

/** Called with the full list of names that changed since the last call, as far as the system tells them. */
export type OnChange = (names: readonly string[]) => void;

/**
 * Watches folders (not what lies deeper) until it is closed. Saving by rename, as editors and the store do, is seen
 * because the folder is watched and not the file. A folder that isn't there is passed over.
 * @param folders the folders
 * @param onChange called once for changes that come close together
 * @param options `settleMs`: how long to wait for more changes before telling
 * @returns stops watching
 */
export function watchFolders(
  folders: readonly string[],
  onChange: OnChange,
  { settleMs = 15 }: { settleMs?: number } = {},
): () => void {
  let timer: NodeJS.Timeout | undefined;
  let names = new Set<string>();
  const watchers = folders.flatMap((folder) => {
    try {
      const watcher = watch(folder, (_event, name) => {
        names.add(name ?? "");
        clearTimeout(timer);
        timer = setTimeout(() => {
          const seen = [...names];
          names = new Set();
          onChange(seen);
        }, settleMs);
      });
      // A watched folder that is deleted ends its watcher with an error; there is nothing left to tell.
      watcher.on("error", () => watcher.close());
      return [watcher];
    } catch {
      return [];
    }
  });
  return () => {
    clearTimeout(timer);
    for (const watcher of watchers) watcher.close();
  };
}
