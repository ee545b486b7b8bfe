/*
 * `npm run interval-coverage [-- PART] [--trials 10000] [--missing]`: how often each interval, assurance and test keeps its promise in drawn trials. The table is written to
 * tests/coverage/coverage.csv, a line a case, the other lines left as they are; `--missing` draws only cases that have no line yet. It takes minutes to hours: tests only read the table.
 */
import { readFile, writeFile } from "node:fs/promises";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { BLOCK, type CoverageResult } from "./coverage-case.ts";
import { mergeCoverage, readCoverage } from "./coverage-table.ts";
import { parts } from "./cases.ts";
import type { BlockAnswer, BlockRequest } from "./draw-block.ts";

const file = fileURLToPath(new URL("coverage.csv", import.meta.url));
const { values, positionals } = parseArgs({
  options: { trials: { type: "string", default: "10000" }, missing: { type: "boolean", default: false } },
  allowPositionals: true,
});
const trials = Number(values.trials);
if (!Number.isInteger(trials) || trials < BLOCK || trials % BLOCK !== 0)
  throw new Error(`--trials ${values.trials}: expected a multiple of ${BLOCK}.`);
const unknown = positionals.filter((name) => !(name in parts));
if (unknown.length > 0)
  throw new Error(`There is no part "${unknown.join('", "')}". Known: ${Object.keys(parts).join(", ")}.`);
const drawnBefore = new Map(
  values.missing
    ? readCoverage(await readFile(file, "utf8")).map((line): [string, number] => [line.name, line.seed])
    : [],
);
// In the order in which the parts were asked for.
const chosen = (positionals.length === 0 ? Object.keys(parts) : positionals)
  .flatMap((name) => parts[name])
  .filter(({ name, seed }) => drawnBefore.get(name) !== seed);

// Cases that are drawn together are asked for by the first of them.
const queue: BlockRequest[] = chosen
  .filter(({ name, together }) => together === undefined || together.names[0] === name)
  .flatMap(({ name }) =>
    Array.from({ length: trialsOf(name) / BLOCK }, (_, block) => ({ name, block, trials: BLOCK })),
  );
const answers: BlockAnswer[] = [];

/** Fewer for a case that takes hours. */
function trialsOf(name: string): number {
  return Math.min(trials, chosen.find((candidate) => candidate.name === name)?.fewer ?? trials);
}

const started = Date.now();

async function work(): Promise<void> {
  const worker = new Worker(new URL("draw-block.mjs", import.meta.url));
  try {
    for (let request = queue.shift(); request !== undefined; request = queue.shift()) {
      const asked = request;
      answers.push(
        await new Promise<BlockAnswer>((resolve, reject) => {
          worker.removeAllListeners();
          worker.once("message", resolve);
          worker.once("error", reject);
          worker.postMessage(asked);
        }),
      );
      await report(asked.name);
    }
  } finally {
    await worker.terminate();
  }
}

let writing: Promise<void> = Promise.resolve();

/** Writes a case's lines as soon as its last block is there, so that a run that is stopped keeps what it has. */
async function report(name: string): Promise<void> {
  const done = answers.filter((answer) => answer.name === name);
  if (done.length * BLOCK < trialsOf(name)) return;
  const results = done[0].counts.map(({ name: one }) => resultOf(one, done));
  writing = writing.then(async () => {
    const before = await readFile(file, "utf8").catch(() => "");
    await writeFile(file, mergeCoverage(before, results, new Date()));
  });
  await writing;
  const seconds = Math.round((Date.now() - started) / 1000);
  for (const result of results) {
    const share = ((100 * result.held) / (result.trials - result.without)).toFixed(2);
    process.stderr.write(
      `${seconds} s  ${result.name}: ${share} %${result.promise === "told" ? "" : ` (promised ${100 * result.nominal} %)`}\n`,
    );
  }
}

function resultOf(name: string, done: readonly BlockAnswer[]): CoverageResult {
  const asked = chosen.find((candidate) => candidate.name === name);
  if (!asked) throw new Error(`"${name}" is drawn together with cases of another part.`);
  const counts = done.flatMap((answer) => answer.counts.filter((count) => count.name === name));
  return {
    name,
    nominal: asked.nominal,
    promise: asked.promise ?? "equal",
    seed: asked.seed,
    trials: trialsOf(name),
    held: counts.reduce((sum, { held }) => sum + held, 0),
    without: counts.reduce((sum, { without }) => sum + without, 0),
  };
}

await Promise.all(Array.from({ length: Math.min(availableParallelism(), queue.length) }, work));
