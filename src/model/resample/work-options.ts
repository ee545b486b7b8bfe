import { modelError } from "../error.ts";

/** How work in threads is watched and stopped. */
export interface WorkOptions {
  /** Stops it; what was drawn so far is kept, and said. */
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: { readonly drawn: number; readonly asked: number }) => void;
  /** Threads beside this one; 0 draws everything here. Default: as many as the machine has. */
  readonly workers?: number;
}

const most = 1_000_000;

export function requireDraws(draws: number, least: number): void {
  if (!Number.isInteger(draws) || draws < least || draws > most)
    throw modelError(`${draws} draws`, `a whole number from ${least} to 1,000,000`);
}
