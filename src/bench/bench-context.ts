import type { Hono } from "hono";
import type { Runner } from "../notebook/index.ts";
import type { SearchDesk } from "./search-desk.ts";

/** What the bench works with; nothing else reaches it. */
export interface BenchContext {
  /** The project's folder: trials in `experiments/`, notebooks in `notebooks/`. */
  readonly root: string;
  /** Where it listens, such as "127.0.0.1:8127"; other names are refused. */
  readonly address: string;
  /** The launch token: what the opened address carries. */
  readonly token: string;
  /** Ends live streams and running notebooks. */
  readonly signal: AbortSignal;
  readonly clock: () => Date;
  /** Runs notebooks; left out, the bench makes its own when the first one is opened, and closes it. */
  readonly runner?: Runner;
  /** Where the built client lies; by default beside the sources. */
  readonly clientFolder?: string;
  /** Told of faults of the program (not of refusals), for the log. */
  readonly onFault?: (error: unknown) => void;
}

/** What the parts of one bench share. */
export interface RouteContext extends BenchContext {
  /** Loaded with the first layout that is asked for. */
  readonly desk: () => Promise<SearchDesk>;
}

/** Adds the answers of one part of the bench. */
export type AddRoutes = (bench: Hono, context: RouteContext) => void;
