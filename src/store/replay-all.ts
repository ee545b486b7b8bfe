import type { Reading } from "../trial/index.ts";
import type { Entry } from "./journal-change.ts";
import { readingOf } from "./journal-readings.ts";
import { emptyState, replayed, type State } from "./replay.ts";

/**
 * The state after all entries of a journal: that of `replayed`, one by one, but runs of added readings are gathered, so
 * that thousands of readings recorded singly are not copied thousands of times.
 */
export function replayAll(entries: readonly Entry[]): State {
  let state = emptyState;
  let gathered: Reading[] = [];
  const flush = (): void => {
    if (gathered.length > 0) state = { ...state, readings: [...state.readings, ...gathered] };
    gathered = [];
  };
  for (const entry of entries) {
    if (entry.change.kind === "recorded") {
      for (const reading of entry.change.readings) gathered.push(readingOf(reading));
      state = replayed(state, { ...entry, change: { ...entry.change, readings: [] } });
    } else {
      flush();
      state = replayed(state, entry);
    }
  }
  flush();
  return state;
}
