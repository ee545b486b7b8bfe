import { effect } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { useLive } from "./live.ts";

export interface LoadingOptions {
  /** Forgets what another trial left, before the first answer comes. */
  readonly reset: () => void;
  readonly load: (trial: string) => Promise<void>;
  /** Reads what the sheet asks for from the address: when that changes, the sheet is loaded again. Left out, the sheet asks for nothing. */
  readonly asked?: () => unknown;
  /** How long to wait for further typing; default 0. */
  readonly pauseMs?: number;
  /** Whether something is shown already: the first answer is not waited for. */
  readonly isShown: () => boolean;
}

/** Loads a sheet of a trial now, again when what it asks for changes, and when the trial's files change. */
export function useLoading(trial: string, options: LoadingOptions): void {
  const { reset, load, asked = () => undefined, pauseMs = 0, isShown } = options;
  useEffect(() => {
    reset();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = effect(() => {
      asked();
      clearTimeout(timer);
      timer = setTimeout(() => void load(trial), isShown() ? pauseMs : 0);
    });
    return () => {
      stop();
      clearTimeout(timer);
    };
    // The options of the first render are kept: they work on signals, never on what a render held.
  }, [trial]);
  useLive(`/api/live/changes?trial=${encodeURIComponent(trial)}`, { changed: () => void load(trial) });
}
