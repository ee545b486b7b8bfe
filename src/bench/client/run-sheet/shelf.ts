/** What was typed and not yet saved, kept in this browser so that neither a closed tab nor a stopped bench loses it. */
const prefix = "trycut-typed ";

function read(trial: string): Record<string, string> {
  try {
    // Written below, by this file only.
    return JSON.parse(localStorage.getItem(prefix + trial) ?? "{}") as Record<string, string>;
  } catch {
    return {};
  }
}

/** What was left typed in a trial's run sheet, by slot. */
export function typedBefore(trial: string): ReadonlyMap<string, string> {
  return new Map(Object.entries(read(trial)));
}

/** Keeps what is typed in a slot, or forgets it where nothing is. */
export function keepTyped(trial: string, key: string, typed: string): void {
  try {
    const kept = read(trial);
    if (typed === "") delete kept[key];
    else kept[key] = typed;
    if (Object.keys(kept).length === 0) localStorage.removeItem(prefix + trial);
    else localStorage.setItem(prefix + trial, JSON.stringify(kept));
  } catch {
    // A browser that keeps nothing still sends what is typed.
  }
}
