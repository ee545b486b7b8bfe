import type { Hono } from "hono";
import type { BenchContext } from "../bench-context.ts";
import { addChangeRoutes } from "./changes.ts";
import { addNotebookRoutes } from "./notebooks.ts";
import { addSessionRoutes } from "./session.ts";

/** Adds the answers of one part of the bench. */
export type AddRoutes = (bench: Hono, context: BenchContext) => void;

export const routes: readonly AddRoutes[] = [addSessionRoutes, addChangeRoutes, addNotebookRoutes];
