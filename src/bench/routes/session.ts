import { basename, resolve } from "node:path";
import type { Session } from "../api.ts";
import type { AddRoutes } from "../bench-context.ts";

/** What the client wants to know before it shows anything, and the look of figures and entries. */
export const addSessionRoutes: AddRoutes = (bench, { root, clock }) => {
  bench.get("/api/session", (request) => {
    const session: Session = { project: basename(resolve(root)), now: clock().toISOString() };
    return request.json(session);
  });

  bench.get("/entries.css", async (request) => {
    const { entryStyle } = await import("../../notebook/index.ts");
    return request.body(entryStyle, 200, { "Content-Type": "text/css; charset=utf-8" });
  });
};
