import { randomUUID } from "node:crypto";
import { z } from "zod";
import type { Runner, WatchedPage } from "../../notebook/index.ts";
import type { LiveEntry, LivePage, NotebooksAnswer } from "../api.ts";
import type { BenchContext } from "../bench-context.ts";
import { BenchError, messageOf } from "../error.ts";
import { eventStream } from "../event-stream.ts";
import { jsonBody } from "../json-request.ts";
import { notebookNames, notebookPath } from "../project-path.ts";
import type { AddRoutes } from "../bench-context.ts";

const stopRequest = z.strictObject({ stream: z.uuid() });

/** Answers come in the address of the page, so that the address alone gives the same page again. */
const answerPrefix = "answer.";

function answersIn(query: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(query)
      .filter(([name]) => name.startsWith(answerPrefix))
      .map(([name, answer]) => [name.slice(answerPrefix.length), answer]),
  );
}

/** The runner is made when the first notebook is asked for: its spare worker loads the whole library. */
function runnerOf(context: BenchContext): () => Promise<Runner> {
  let made: Promise<Runner> | undefined;
  const make = async (): Promise<Runner> => {
    if (context.runner) return context.runner;
    const { createRunner } = await import("../../notebook/index.ts");
    const runner = createRunner({ root: context.root });
    context.signal.addEventListener("abort", () => void runner.close(), { once: true });
    return runner;
  };
  return () => (made ??= make());
}

/** Notebooks: the list, the page that is redrawn after every change, and the button that stops a run. */
export const addNotebookRoutes: AddRoutes = (bench, context) => {
  const { root, signal } = context;
  const runner = runnerOf(context);
  const open = new Map<string, WatchedPage>();

  bench.get("/api/notebooks", async (request) => {
    const answer: NotebooksAnswer = { notebooks: await notebookNames(root) };
    if (answer.notebooks.length > 0)
      void runner().then(
        (made) => made.warm(),
        () => undefined,
      );
    return request.json(answer);
  });

  bench.get("/api/live/notebooks/:name", async (request) => {
    const file = await notebookPath(root, request.req.param("name"));
    const answers = answersIn(request.req.query());
    const stream = randomUUID();
    const { renderEntry, watchPage } = await import("../../notebook/index.ts");
    const made = await runner();
    return eventStream(request, signal, (tell) => {
      const watched = watchPage(made, file, {
        answers,
        onStart: () => tell({ event: "start", data: { stream } }),
        onEntry: (entry, index) => {
          const told: LiveEntry = {
            index,
            kind: entry.kind,
            html: renderEntry(entry, { index, asks: "form" }),
          };
          tell({ event: "entry", data: told });
        },
        onPage: (page) => {
          const told: LivePage = {
            title: page.title,
            titleBlock: page.titleBlock,
            entries: page.entries.length,
            failed: page.entries.some((entry) => entry.kind === "error"),
          };
          tell({ event: "page", data: told });
        },
        onFailure: (error) => tell({ event: "failure", data: { message: messageOf(error) } }),
      });
      open.set(stream, watched);
      return () => {
        open.delete(stream);
        watched.close();
      };
    });
  });

  bench.post("/api/notebooks/stop", async (request) => {
    const { stream } = await jsonBody(request, stopRequest);
    const watched = open.get(stream);
    if (!watched) throw new BenchError(404, "That page is not open any more, so there is nothing to stop.");
    watched.stop();
    return request.json({});
  });
};
