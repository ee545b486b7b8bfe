import { runCommand } from "./run.ts";
import { verbs } from "./verbs/index.ts";

const stop = new AbortController();
let listening = false;

process.exitCode = await runCommand(process.argv.slice(2), verbs, {
  out: (text) => process.stdout.write(`${text}\n`),
  error: (text) => process.stderr.write(`${text}\n`),
  folder: process.cwd(),
  width: process.stdout.columns ?? 100,
  now: () => new Date(),
  // Ctrl-C is heard only for a verb that asks to be told; any other ends at once, in the middle of a sum too. Files are put in place whole, so none is left half-written.
  get signal() {
    if (!listening) for (const name of ["SIGINT", "SIGTERM"] as const) process.once(name, () => stop.abort());
    listening = true;
    return stop.signal;
  },
});
