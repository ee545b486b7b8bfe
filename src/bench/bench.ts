import { Hono } from "hono";
import { bodyLimit } from "hono/body-limit";
import { builtFolder, readClientFiles, type ClientFile } from "./client-files.ts";
import type { BenchContext } from "./bench-context.ts";
import { BenchError, isRefusal, messageOf, statusOf } from "./error.ts";
import { checkHost, checkOrigin, checkToken, protect } from "./guard.ts";
import { largestBodyBytes } from "./json-request.ts";
import { refusalPage } from "./refusal-page.ts";
import { routes } from "./routes/index.ts";
import type { SearchDesk } from "./search-desk.ts";

/** The pages of the client: any of these addresses is answered with its one HTML file, which finds its way itself. */
const clientPages = /^\/(?:$|trials(?:\/|$)|notebooks(?:\/|$)|new-trial$|import$)/;

function serve(file: ClientFile): Response {
  return new Response(file.body, { headers: { "Content-Type": file.type } });
}

/**
 * The bench as a web application that needs no port: `bench.request("/api/trials")` answers.
 * Everything it tells is the return value of a public function of the library.
 * @param context where the project lies, where the bench listens, and what runs its notebooks
 */
export function createBench(context: BenchContext): Hono {
  const bench = new Hono();
  let client: Promise<ReadonlyMap<string, ClientFile>> | undefined;
  const clientFiles = () => (client ??= readClientFiles(context.clientFolder ?? builtFolder));

  bench.onError((error, request) => {
    const status = statusOf(error);
    if (!isRefusal(error)) context.onFault?.(error);
    const message = messageOf(error);
    if (request.req.path.startsWith("/api/")) return request.json({ error: message }, status);
    return request.html(refusalPage(status, message), status);
  });
  bench.notFound((request) => {
    const message = `The bench has nothing at ${request.req.path}.`;
    if (request.req.path.startsWith("/api/")) return request.json({ error: message }, 404);
    return request.html(refusalPage(404, message), 404);
  });

  bench.use(protect(), checkHost(context), checkOrigin(context), checkToken(context));
  bench.use(
    "/api/*",
    bodyLimit({
      maxSize: largestBodyBytes,
      onError: () => {
        throw new BenchError(413, `A request may hold at most ${largestBodyBytes / 1024 / 1024} MB.`);
      },
    }),
  );
  let desk: Promise<SearchDesk> | undefined;
  const shared = {
    ...context,
    desk: () => (desk ??= import("./search-desk.ts").then(({ searchDesk }) => searchDesk())),
  };
  for (const addRoutes of routes) addRoutes(bench, shared);

  bench.get("*", async (request, next) => {
    const files = await clientFiles();
    const { path } = request.req;
    const isPage = clientPages.test(path);
    const file = files.get(isPage ? "/index.html" : path);
    if (isPage && !file)
      throw new BenchError(503, 'The bench\'s page is not built: run "npm ci" in the folder of Trycut.');
    return file ? serve(file) : next();
  });
  return bench;
}
