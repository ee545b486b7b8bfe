import { UsageError } from "../error.ts";
import { numberOption, textOption } from "../option-values.ts";
import type { Verb } from "../verb.ts";

export const bench: Verb = {
  name: "bench",
  summary: "start the local page",
  help: [
    "trycut bench [--open] [--port 8127] [--host 127.0.0.1]",
    "",
    "Starts the bench on this machine and prints its address. It answers this machine only unless --host says otherwise.",
    "",
    "  --open       open the page in the browser, where there is one",
    "  --port N     the first port to try; the next free one is taken",
    "  --host A     another address of this machine: whoever reaches it and has the address printed can write readings",
  ].join("\n"),
  options: { open: { type: "boolean" }, port: { type: "string" }, host: { type: "string" } },
  words: [0, 0],
  run: async ({ options, json }, terminal) => {
    const port = numberOption(options, "port");
    if (port !== undefined && !(Number.isInteger(port) && port >= 0 && port <= 65_535)) {
      throw new UsageError(`--port ${port}: expected a whole number from 0 to 65535.`);
    }
    // Loaded here, so that no other verb waits for the server.
    const { startBench } = await import("../../bench/index.ts");
    const started = await startBench({
      root: terminal.folder,
      port,
      host: textOption(options, "host"),
      open: options["open"] === true ? "where-possible" : "never",
      out: json ? () => undefined : terminal.out,
      error: terminal.error,
      signal: terminal.signal,
    });
    if (json) terminal.out(JSON.stringify({ url: started.url, address: started.address }));
    await started.closed;
    return 0;
  },
};
