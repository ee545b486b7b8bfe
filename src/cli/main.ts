import { runCommand } from "./run.ts";
import { verbs } from "./verbs/index.ts";

const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => stop.abort());

process.exitCode = await runCommand(process.argv.slice(2), verbs, {
  out: (text) => process.stdout.write(`${text}\n`),
  error: (text) => process.stderr.write(`${text}\n`),
  folder: process.cwd(),
  width: process.stdout.columns ?? 100,
  now: () => new Date(),
  signal: stop.signal,
});
